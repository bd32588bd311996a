#include "markup.hpp"

#include <cstdint>

#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD

bool continues(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
}

/// Length in bytes of the well-formed UTF-8 sequence at `at` (RFC 3629), 0 when there is none. Surrogates and the two non-characters U+FFFE
/// and U+FFFF, which XML forbids, count as none.
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

}  // namespace

std::string escape_markup(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = sequence_length(text, i);
    if (length == 0) {
      out += replacement;
      ++i;
      continue;
    }
    if (length == 1) {
      const char c = text[i];
      const bool control = (static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7F;
      switch (c) {
        case '&': out += "&amp;"; break;
        case '<': out += "&lt;"; break;
        case '>': out += "&gt;"; break;
        case '"': out += "&quot;"; break;
        case '\'': out += "&#39;"; break;
        default:
          if (!control) out += c;
      }
    } else {
      out += text.substr(i, length);
    }
    i += length;
  }
  return out;
}

void Markup::begin(const char* tag, Attributes attributes) {
  bytes_ += '<';
  bytes_ += tag;
  for (const Attribute& attribute : attributes) {
    bytes_ += ' ';
    bytes_ += attribute.name;
    bytes_ += "=\"";
    bytes_ += escape_markup(attribute.value);
    bytes_ += '"';
  }
}

Markup& Markup::open(const char* tag, Attributes attributes) {
  begin(tag, attributes);
  bytes_ += '>';
  open_.push_back(tag);
  return *this;
}

Markup& Markup::close() {
  if (open_.empty()) throw Error(ErrorCode::contract, "Markup: close() without an open element");
  bytes_ += "</";
  bytes_ += open_.back();
  bytes_ += '>';
  open_.pop_back();
  return *this;
}

Markup& Markup::text(std::string_view text) {
  bytes_ += escape_markup(text);
  return *this;
}

Markup& Markup::element(const char* tag, std::string_view text) { return element(tag, {}, text); }

Markup& Markup::element(const char* tag, Attributes attributes, std::string_view text) {
  return open(tag, attributes).text(text).close();
}

Markup& Markup::empty(const char* tag, Attributes attributes) {
  begin(tag, attributes);
  bytes_ += "/>";
  return *this;
}

Markup& Markup::add(const Markup& fragment) {
  if (!fragment.open_.empty())
    throw Error(ErrorCode::contract,
                std::string("Markup: a fragment is added with <") + fragment.open_.back() + "> still open");
  bytes_ += fragment.bytes_;
  return *this;
}

Markup& Markup::add(const EmbeddedText& text) {
  bytes_ += text.text;
  return *this;
}

Markup& Markup::doctype() {
  bytes_ += "<!doctype html>\n";
  return *this;
}

}  // namespace pulsewright
