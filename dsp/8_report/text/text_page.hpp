/// A page for a terminal: a title, aligned rows, paragraphs.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/variability.hpp"

namespace pulsewright {

class TextPage {
 public:
  /// A line that stands alone, followed by rows.
  TextPage& heading(std::string_view line);
  /// `label  value  note`: labels and values of rows that follow each other are aligned.
  TextPage& row(std::string_view label, std::string_view value, std::string_view note = {});
  /// Wrapped text, indented like rows.
  TextPage& paragraph(std::string_view text);
  /// A table: the first row is its head. Columns are aligned right, the first one left.
  TextPage& table(const std::vector<std::vector<std::string>>& rows);
  TextPage& blank();

  /// What came from files may hold anything: bytes that are no UTF-8 and control characters, which a terminal obeys, become U+FFFD.
  [[nodiscard]] std::string take();

 private:
  struct Row {
    std::string label, value, note;
  };
  void flush_rows();

  std::vector<Row> rows_;
  std::string bytes_;
};

/// Why some values are missing: every reason once. Nothing when there are none.
void add_reasons(TextPage& page, const std::vector<Reason>& reasons);

/// Words broken into lines of at most `width` characters, each begun by `begin`.
[[nodiscard]] std::string wrap(std::string_view text, std::size_t width, std::string_view begin);

/// A number with its unit: `72 beats/min`; `none` when there is no value.
[[nodiscard]] std::string with_unit(std::string_view number, std::string_view unit);

/// A number without the zeros that end its decimals: `229`, `1.5219`; empty when there is none.
[[nodiscard]] std::string brief_number(const std::optional<double>& value, int most_decimals);

/// A name of the documents as people read it: `off rhythm` for `off_rhythm`.
[[nodiscard]] std::string spaced(std::string_view name);

/// `3 beats`, `1 beat`.
[[nodiscard]] std::string counted(long long n, std::string_view singular, std::string_view plural);

}  // namespace pulsewright
