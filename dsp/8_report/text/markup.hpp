/// Writes HTML and SVG. What is given as text or as the value of an attribute is escaped on its way in, and there is no other way in but whole
/// fragments made by this class and texts that are part of the library.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "8_report/embedded_text.hpp"

namespace pulsewright {

/// The text with the five characters that mean something in markup replaced, bytes that are no UTF-8 as U+FFFD, and control characters other than
/// tab and line ends left out.
[[nodiscard]] std::string escape_markup(std::string_view text);

/// A growing piece of markup. Tags and names of attributes are words of the caller's program, never of its input.
class Markup {
 public:
  struct Attribute {
    const char* name;
    std::string value;
  };
  using Attributes = std::initializer_list<Attribute>;

  /// `<tag ...>`; to be closed.
  Markup& open(const char* tag, Attributes attributes = {});
  /// Closes the innermost open element.
  Markup& close();
  /// Escaped text.
  Markup& text(std::string_view text);
  /// `<tag ...>text</tag>`.
  Markup& element(const char* tag, std::string_view text);
  Markup& element(const char* tag, Attributes attributes, std::string_view text);
  /// `<tag .../>`: an element without content, of SVG or one that HTML calls void.
  Markup& empty(const char* tag, Attributes attributes = {});
  /// Another fragment as it is.
  Markup& add(const Markup& fragment);
  /// A style sheet or a script of the library's own, as it is.
  Markup& add(const EmbeddedText& text);
  /// `<!doctype html>`.
  Markup& doctype();

  [[nodiscard]] const std::string& bytes() const { return bytes_; }
  [[nodiscard]] bool blank() const { return bytes_.empty(); }

 private:
  void begin(const char* tag, Attributes attributes);

  std::string bytes_;
  std::vector<const char*> open_;
};

}  // namespace pulsewright
