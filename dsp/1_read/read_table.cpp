#include <fmt/format.h>

#include <algorithm>

#include "clock_text.hpp"
#include "file_bytes.hpp"
#include "hash.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/cell_text.hpp"
#include "pulsewright/table.hpp"
#include "text_cell.hpp"

namespace pulsewright {

namespace {

using namespace reading;

/// The delimiter of a header: whichever of semicolon, tab and comma it has, in this order.
char delimiter_of(std::string_view header) {
  for (const char mark : {';', '\t'})
    if (header.find(mark) != std::string_view::npos) return mark;
  return ',';
}

/// A quoted cell may go over so many line ends (ours: a remark of a spreadsheet does, a table behind
/// a forgotten quote does not).
constexpr int most_line_ends = 100;

bool is_blank(char c) { return c == ' ' || c == '\t'; }

/// Takes rows off a text, cell by cell (RFC 4180): a cell that begins with a quote goes to the quote
/// that is not doubled, over delimiters and line ends.
class RowTaker {
 public:
  RowTaker(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  [[nodiscard]] std::int64_t line() const { return line_; }
  /// The line at hand, without its end.
  [[nodiscard]] std::string_view line_text() const {
    std::string_view rest = text_.substr(at_);
    return take_line(rest);
  }
  void pass_line() {
    at_ = std::min(text_.find('\n', at_), text_.size() - 1) + 1;
    ++line_;
  }

  /// The cells of the row at hand, of which a quoted one may go on to further lines.
  std::vector<std::string> row(char delimiter) {
    std::vector<std::string> cells;
    for (;;) {
      while (at_ < text_.size() && is_blank(text_[at_]) && text_[at_] != delimiter) ++at_;
      cells.push_back(at_ < text_.size() && text_[at_] == '"' ? quoted_cell(delimiter) : plain_cell(delimiter));
      if (at_ < text_.size() && text_[at_] == delimiter) {
        ++at_;
        continue;
      }
      if (at_ < text_.size()) ++at_;  // the line end
      ++line_;
      return cells;
    }
  }

 private:
  [[nodiscard]] std::size_t end_of_cell(std::size_t from, char delimiter) const {
    const char ends[] = {delimiter, '\n'};
    return std::min(text_.find_first_of(std::string_view{ends, 2}, from), text_.size());
  }

  std::string plain_cell(char delimiter) {
    const std::size_t end = end_of_cell(at_, delimiter);
    const std::string_view cell = trimmed(text_.substr(at_, end - at_));
    if (std::count(cell.begin(), cell.end(), '"') % 2 != 0)
      refuse({file_, line_}, cell, "a quote is opened and not closed; a quote within text is doubled");
    at_ = end;
    return std::string{unguarded_cell(cell)};
  }

  std::string quoted_cell(char delimiter) {
    const std::size_t begin = at_++;
    const std::int64_t begin_line = line_;
    std::string cell;
    int line_ends = 0;
    for (;; ++at_) {
      if (at_ >= text_.size() || line_ends > most_line_ends)
        refuse({file_, begin_line}, text_.substr(begin, 80),
               "a quote is opened and not closed; a quote within text is doubled");
      if (text_[at_] == '"') {
        if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') break;
        ++at_;
      }
      line_ends += text_[at_] == '\n';
      cell += text_[at_];
    }
    const std::size_t end = end_of_cell(++at_, delimiter);
    if (!trimmed(text_.substr(at_, end - at_)).empty()) {  // text behind the closing quote: no quoted cell after all
      at_ = begin;
      return plain_cell(delimiter);
    }
    at_ = end;
    line_ += line_ends;
    return std::string{unguarded_cell(trimmed(cell))};
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t at_ = 0;
  std::int64_t line_ = 1;
};

}  // namespace

std::optional<std::size_t> Table::column(std::string_view name) const {
  const auto found = std::find(columns.begin(), columns.end(), name);
  if (found == columns.end()) return std::nullopt;
  return static_cast<std::size_t>(found - columns.begin());
}

std::string_view Table::cell(const TableRow& row, std::string_view name) const {
  const auto position = column(name);
  return position ? std::string_view{row.cells[*position]} : std::string_view{};
}

std::optional<double> Table::number(std::string_view cell) const { return number_in(cell, delimiter != ','); }

Table table_of(std::string_view text, const std::string& file) {
  Table table;
  table.file = file;
  std::string_view rest = text;
  if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
  if (rest.find('\0') != std::string_view::npos) refuse({file}, "holds bytes that are no text; a table is expected");
  RowTaker taker{rest, file};
  while (!taker.at_end()) {
    const std::string_view line = taker.line_text();
    if (trimmed(line).empty() || is_comment(line)) {
      taker.pass_line();
      continue;
    }
    const Place place{file, taker.line()};
    if (table.columns.empty()) {
      table.header_line = taker.line();
      table.delimiter = delimiter_of(line);
      for (const std::string& cell : taker.row(table.delimiter)) {
        std::string name = lower_case(cell);
        if (!name.empty() && table.column(name))
          refuse(place, name, "names two columns; each column has a name of its own");
        table.titles.push_back(cell);
        table.columns.push_back(std::move(name));
      }
      continue;
    }
    TableRow row{taker.line(), taker.line(), {}};
    row.cells = taker.row(table.delimiter);
    row.last_line = taker.line() - 1;
    while (row.cells.size() > table.columns.size() && row.cells.back().empty()) row.cells.pop_back();
    if (row.cells.size() > table.columns.size())
      refuse(place, line,
             fmt::format("has {} cells below {} columns; put text with a separator in quotes", row.cells.size(),
                         table.columns.size()));
    const bool empty = std::all_of(row.cells.begin(), row.cells.end(), [](const std::string& c) { return c.empty(); });
    if (empty) continue;  // what a spreadsheet leaves of a deleted row
    row.cells.resize(table.columns.size());
    table.rows.push_back(std::move(row));
  }
  if (table.columns.empty()) refuse({file}, "holds no line that names columns");
  return table;
}

Table read_table(const std::filesystem::path& path) {
  const FileBytes file{path};
  Table table = table_of(file.text(), file.name());
  table.sha256 = sha256_of(file.bytes());
  return table;
}

void TableFaults::add(std::int64_t line, std::string_view column, std::string_view value, std::string_view rule) {
  lines_.push_back(message_at({file_, line, std::nullopt, std::string{column}}, value, rule));
}

void TableFaults::add(std::int64_t line, std::string_view rule) { lines_.push_back(message_at({file_, line}, rule)); }

void TableFaults::refuse() const {
  if (lines_.empty()) return;
  constexpr std::size_t most_told = 20;
  std::string message;
  for (std::size_t i = 0; i < std::min(lines_.size(), most_told); ++i) message += (i > 0 ? "\n" : "") + lines_[i];
  if (lines_.size() > most_told) message += fmt::format("\nand {} more", lines_.size() - most_told);
  throw Error{ErrorCode::unreadable, message};
}

std::optional<double> time_of_day_in(std::string_view text) {
  std::string with_seconds{trimmed(text)};
  if (std::count(with_seconds.begin(), with_seconds.end(), ':') == 1) with_seconds += ":00";
  const std::optional<ClockTime> clock = parse_clock(with_seconds);
  if (!clock || !clock->has_time || !clock->of_day) return std::nullopt;
  return clock->second;
}

}  // namespace pulsewright
