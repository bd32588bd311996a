#include "message.hpp"

#include <fmt/format.h>

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
  const std::string_view looked_at = value.substr(0, longest_shown);
  for (std::size_t i = 0; i < looked_at.size(); ++i) {
    const auto byte = static_cast<unsigned char>(looked_at[i]);
    // U+0080 to U+009F, which terminals obey too, are two bytes.
    const auto second = byte == 0xc2 && i + 1 < looked_at.size() ? static_cast<unsigned char>(looked_at[i + 1]) : 0U;
    if (byte < 0x20 || byte == 0x7f) {
      text += fmt::format("\\x{:02x}", byte);
    } else if (second >= 0x80 && second <= 0x9f) {
      text += fmt::format("\\x{:02x}", second);
      ++i;
    } else {
      text += looked_at[i];
    }
  }
  if (value.size() > longest_shown) text += "...";
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
