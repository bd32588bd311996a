#include "sample_cells.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <limits>

#include "cell_end.hpp"
#include "decimal.hpp"
#include "message.hpp"

namespace pulsewright::reading {

namespace {

constexpr float not_recorded = std::numeric_limits<float>::quiet_NaN();
/// Samples are kept in single precision.
constexpr double largest_sample = std::numeric_limits<float>::max();

}  // namespace

SampleCells::SampleCells(const TextLayout& layout, const std::string& file)
    : layout_(layout), file_(file), clues_(layout.columns) {}

bool SampleCells::take(std::string_view& rest, bool& last, float& sample, BadCell& bad, std::size_t column,
                       std::int64_t row) {
  std::string_view behind = without_blanks_before(rest);
  Decimal number;
  bool is_number = take_decimal(behind, number);
  if (!is_number) {
    const auto [at, fault] = std::from_chars(behind.data(), behind.data() + behind.size(), number.value);
    is_number = fault == std::errc{} && std::isfinite(number.value);
    const auto length = static_cast<std::size_t>(at - behind.data());
    number.decimals = decimals_of(behind.substr(0, length));
    behind.remove_prefix(length);
  }
  if (is_number && std::abs(number.value) <= largest_sample && end_cell(behind, rest, last, layout_.style.delimiter)) {
    sample = static_cast<float>(number.value);
    clues_[column].take(number.value, number.decimals, NumberSign::point, row);
    return true;
  }
  const Cell cell = take_cell(rest, layout_.style.delimiter, last);
  if (is_missing(cell.text)) {
    sample = not_recorded;
    return true;
  }
  const auto other = number_in(cell.text, layout_.style.decimal_comma || cell.quoted);
  if (other && std::abs(*other) <= largest_sample) {
    sample = static_cast<float>(*other);
    const bool comma = cell.text.find(',') != std::string_view::npos;
    clues_[column].take(*other, decimals_of(cell.text), comma ? NumberSign::comma : NumberSign::point, row);
    return true;
  }
  if (const auto grouped = grouped_number(cell.text)) {
    sample = static_cast<float>(grouped->value);
    clues_[column].take_grouped(grouped->sign, grouped->with_decimals);
    return true;
  }
  bad = {column, std::string{cell.text},
         other ? "a sample is smaller than 3.4e38, the largest number that is kept"
               : "a sample is a finite number, or empty or nan where nothing was recorded"};
  return false;
}

void SampleCells::settle_thousands(TextTable& table, const GroupClues& times) const {
  constexpr std::array signs{NumberSign::point, NumberSign::comma};
  std::array<bool, 2> decimal{};
  for (const NumberSign sign : signs) {
    bool& seen = decimal[static_cast<std::size_t>(sign)];
    seen = times.parts_decimals(sign);
    for (const GroupClues& column : clues_) seen = seen || column.parts_decimals(sign);
  }
  for (std::size_t k = 0; k < clues_.size(); ++k)
    for (const NumberSign sign : signs) {
      const GroupClues& column = clues_[k];
      const auto thousands = parts_thousands(column, sign, decimal);
      if (!thousands) refuse_open_sign(table, k, sign);
      if (!*thousands && column.parts_thousands(sign))
        refuse({file_, std::nullopt, std::nullopt, column_text(layout_, k)},
               fmt::format("'{}' parts thousands in some cells and decimals in others", letter_of(sign)));
      if (!*thousands || !column.fits_both(sign)) continue;
      read_as_thousands(table.samples[k], column, sign);
      table.warnings.push_back(
          {"thousands_parted",
           message_at({file_, table.lines.line_of(column.rows_of_both(sign).front().first), std::nullopt,
                       column_text(layout_, k)},
                      fmt::format("'{}' is read as parting thousands, first here", letter_of(sign)))});
    }
}

void SampleCells::refuse_open_sign(const TextTable& table, std::size_t column, NumberSign sign) const {
  const std::int64_t row = clues_[column].rows_of_both(sign).front().first;
  const double value = table.samples[column][static_cast<std::size_t>(row)];
  std::string written = fmt::format("{:.3f}", value);
  written[written.size() - 4] = letter_of(sign);
  refuse({file_, table.lines.line_of(row), std::nullopt, column_text(layout_, column)}, written,
         fmt::format("may be {:.3f} or {:.0f}: other cells of the column are whole numbers below 1000, and no cell of "
                     "the file shows whether '{}' parts decimals or thousands. Write thousands without a sign",
                     value, value * 1000, letter_of(sign)));
}

}  // namespace pulsewright::reading
