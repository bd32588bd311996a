#include "message.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/valid_text.hpp"

namespace pulsewright::reading {

namespace {

/// Longer values are cut when shown, in bytes.
constexpr std::size_t longest_shown = 40;

std::string prefix(const Place& place) {
  std::string text = place.file;
  if (place.line) text += fmt::format(":{}", *place.line);
  if (place.byte) text += fmt::format(": byte {}", *place.byte);
  if (!place.column.empty()) text += fmt::format(": column '{}'", shown(place.column));
  return text;
}

}  // namespace

std::string shown(std::string_view value) {
  std::string text;
  std::size_t at = 0;
  while (at < value.size() && at < longest_shown) {
    const std::size_t length = std::max<std::size_t>(sequence_length(value, at), 1);
    const std::string_view sequence = value.substr(at, length);
    const auto byte = static_cast<unsigned char>(sequence[0]);
    // U+0080 to U+009F, which terminals obey as they do control characters, are two bytes.
    const bool above_ascii = length == 2 && byte == 0xc2 && static_cast<unsigned char>(sequence[1]) < 0xa0;
    const bool stray = length == 1 && byte >= 0x80;
    if (byte < 0x20 || byte == 0x7f || stray) {
      text += fmt::format("\\x{:02x}", byte);
    } else if (above_ascii) {
      text += fmt::format("\\x{:02x}", static_cast<unsigned char>(sequence[1]));
    } else if (turns_writing(sequence)) {
      text += replacement_character;
    } else {
      text += sequence;
    }
    at += length;
  }
  if (value.size() > at) text += "...";
  return text;
}

std::string message_at(const Place& place, std::string_view value, std::string_view rule) {
  return fmt::format("{}: value '{}': {}", prefix(place), shown(value), rule);
}

std::string message_at(const Place& place, std::string_view rule) { return fmt::format("{}: {}", prefix(place), rule); }

void refuse(const Place& place, std::string_view value, std::string_view rule) {
  throw Error{ErrorCode::unreadable, message_at(place, value, rule)};
}

void refuse(const Place& place, std::string_view rule) { throw Error{ErrorCode::unreadable, message_at(place, rule)}; }

}  // namespace pulsewright::reading
