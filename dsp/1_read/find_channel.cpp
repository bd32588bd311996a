#include <fmt/format.h>

#include "number_text.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace {

/// "1 'ecg', 2 'pleth'", for messages.
std::string list_of(const Recording& recording, const std::vector<std::size_t>& positions) {
  std::string list;
  for (const std::size_t i : positions)
    list += fmt::format("{}#{} '{}'", list.empty() ? "" : ", ", i + 1, recording.channels[i].name);
  return list;
}

std::string list_of_all(const Recording& recording) {
  std::vector<std::size_t> all(recording.channels.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  return list_of(recording, all);
}

std::size_t at_position(const Recording& recording, const std::string& selector, std::string_view number) {
  const auto position = reading::whole_integer(number);
  if (!position || *position < 1 || *position > static_cast<std::int64_t>(recording.channels.size()))
    throw Error{ErrorCode::usage, fmt::format("channel '{}': positions go from 1 to {}; there are {}", selector,
                                              recording.channels.size(), list_of_all(recording))};
  return static_cast<std::size_t>(*position - 1);
}

}  // namespace

std::size_t find_channel(const Recording& recording, const std::string& selector) {
  const std::string_view wanted = reading::trimmed(selector);
  if (wanted.starts_with('#') && reading::whole_integer(wanted.substr(1)))
    return at_position(recording, selector, wanted.substr(1));
  std::vector<std::size_t> matches;
  for (std::size_t i = 0; i < recording.channels.size(); ++i)
    if (recording.channels[i].name == wanted) matches.push_back(i);
  if (matches.size() == 1) return matches.front();
  if (matches.size() > 1)
    throw Error{ErrorCode::usage, fmt::format("channel '{}' is the name of more than one: {}; say which by position",
                                              selector, list_of(recording, matches))};
  if (reading::whole_integer(wanted)) return at_position(recording, selector, wanted);
  throw Error{ErrorCode::usage,
              fmt::format("no channel is called '{}'; there are {}", selector, list_of_all(recording))};
}

}  // namespace pulsewright
