#include <fmt/format.h>

#include <algorithm>

#include "number_text.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace {

/// "#1 'ecg', #2 'pleth'", for messages, which name so many at most.
std::string list_of(const Recording& recording, const std::vector<std::size_t>& positions) {
  constexpr std::size_t most_named = 40;
  std::string list;
  for (std::size_t k = 0; k < std::min(positions.size(), most_named); ++k)
    list += fmt::format("{}#{} '{}'", k == 0 ? "" : ", ", positions[k] + 1, recording.channels[positions[k]].name);
  if (positions.size() > most_named) list += fmt::format(" and {} more", positions.size() - most_named);
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
