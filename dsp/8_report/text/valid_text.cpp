#include "valid_text.hpp"

#include <cstdint>

namespace pulsewright {
namespace {

bool continues(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
}

}  // namespace

std::size_t sequence_length(std::string_view text, std::size_t at) {
  const auto first = static_cast<unsigned char>(text[at]);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4) return 0;
  std::uint32_t code = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues(text, at + i)) return 0;
    code = code << 6U | (static_cast<unsigned char>(text[at + i]) & 0x3FU);
  }
  constexpr std::uint32_t smallest_of[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < smallest_of[length] || code > 0x10FFFF || surrogate || code == 0xFFFE || code == 0xFFFF) return 0;
  return length;
}

std::string valid_text(std::string_view text, Controls kept) {
  std::string valid;
  valid.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = sequence_length(text, i);
    const auto byte = static_cast<unsigned char>(text[i]);
    // U+0080 to U+009F are two bytes in UTF-8.
    const bool above_ascii = length == 2 && byte == 0xC2 && static_cast<unsigned char>(text[i + 1]) < 0xA0;
    const bool obeyed = (byte < 0x20 && text[i] != '\n') || byte == 0x7F || above_ascii;
    if (length == 0 || (obeyed && kept == Controls::line_ends))
      valid += replacement_character;
    else
      valid += text.substr(i, length);
    i += length == 0 ? 1 : length;
  }
  return valid;
}

}  // namespace pulsewright
