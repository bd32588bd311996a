#include "markup.hpp"

#include "pulsewright/error.hpp"
#include "valid_text.hpp"

namespace pulsewright {

std::string escape_markup(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = sequence_length(text, i);
    if (length == 0) {
      out += replacement_character;
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
