#include "text_layout.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "message.hpp"
#include "number_text.hpp"
#include "time_column.hpp"

namespace pulsewright::reading {

namespace {

/// How much of a file is looked at, in lines and bytes.
constexpr std::size_t looked_at_lines = 400;
constexpr std::size_t looked_at_bytes = std::size_t{1} << 18;
/// Bytes looked at for control characters.
constexpr std::size_t control_bytes = 4096;
/// Text may hold one control character in this many bytes, as after a glitch of a serial line; in binary files one byte in ten is one.
constexpr std::size_t bytes_for_one_control = 200;

/// A text may begin with this many zero bytes (ours: a serial line sends a few when it opens).
constexpr std::size_t most_zeros_first = 64;

/// A line with something on it.
struct Line {
  std::string_view text;
  std::size_t byte = 0;
  std::int64_t number = 1;
  bool comment = false;
};

/// How the cells of a line look under one delimiter.
struct Row {
  std::vector<Cell> cells;
  std::size_t numbers = 0;  ///< clock times counted too
  std::size_t words = 0;
};

bool is_control(char character) {
  const auto c = static_cast<unsigned char>(character);
  return c < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != 0x1a;
}

void refuse_unless_text(std::string_view text, std::size_t from, const std::string& file) {
  if (text.starts_with("\x1f\x8b") || text.starts_with("\x28\xb5\x2f\xfd") || text.starts_with("PK\x03\x04"))
    refuse({file}, "is compressed; unpack it first");
  if (text.starts_with("\xff\xfe") || text.starts_with("\xfe\xff"))
    refuse({file}, "is text in UTF-16; save it as UTF-8 or plain ASCII");
  const std::string_view head = text.substr(0, control_bytes);
  if (head.find('\n') == head.npos && head.find('\r') != head.npos)
    refuse({file}, "ends its lines with carriage returns alone; save it with line feeds, as all systems of today do");
  std::size_t controls = 0;
  for (std::size_t i = from; i < head.size(); ++i) {
    if (i > 0 && head.find_first_not_of('\0', i) == std::string_view::npos)
      return;  // zero bytes at the end: a power cut
    if (!is_control(head[i])) continue;
    ++controls;
    if (head[i] == '\0' || controls * bytes_for_one_control > head.size())
      refuse({file, std::nullopt, static_cast<std::int64_t>(i)}, head.substr(i, 1),
             "is no character of a text; the file is neither text nor in any other known format");
  }
}

std::vector<Line> first_lines(std::string_view text, std::size_t from) {
  std::vector<Line> lines;
  std::string_view rest = text.substr(from);
  std::int64_t number = 0;
  while (!rest.empty() && lines.size() < looked_at_lines) {
    const auto byte = static_cast<std::size_t>(rest.data() - text.data());
    if (byte > looked_at_bytes) break;
    const bool ended = rest.substr(0, looked_at_bytes).find('\n') != std::string_view::npos;
    if (!ended && rest.size() > looked_at_bytes) break;
    const std::string_view line = take_line(rest);
    ++number;
    if (trimmed(line).empty()) continue;
    lines.push_back({line, byte, number, is_comment(line)});
  }
  return lines;
}

Row row_of(std::string_view line, const CellStyle& style) {
  Row row;
  row.cells = cells_of(line, style.delimiter);
  for (const Cell& cell : row.cells) {
    const CellKind kind = kind_of(cell.text, style.decimal_comma || cell.quoted);
    row.numbers += kind == CellKind::number || kind == CellKind::clock;
    row.words += kind == CellKind::word;
  }
  return row;
}

bool is_data(const Row& row) { return row.words == 0 && row.numbers > 0; }

/// The rows of the looked-at lines under one delimiter; comments have no cells.
std::vector<Row> rows_under(const std::vector<Line>& lines, const CellStyle& style) {
  std::vector<Row> rows;
  rows.reserve(lines.size());
  for (const Line& line : lines) rows.push_back(line.comment ? Row{} : row_of(line.text, style));
  return rows;
}

/// The next line after `i` that is no comment; the number of lines when there is none.
std::size_t next_row(const std::vector<Line>& lines, std::size_t i) {
  do ++i;
  while (i < lines.size() && lines[i].comment);
  return i;
}

/// Whether a row of words alone, of as many cells, stands right above row `i`.
bool below_words(const std::vector<Line>& lines, const std::vector<Row>& rows, std::size_t i) {
  for (std::size_t above = i; above-- > 0;) {
    if (lines[above].comment) continue;
    const Row& row = rows[above];
    return row.cells.size() > 1 && row.cells.size() == rows[i].cells.size() && row.words == row.cells.size();
  }
  return false;
}

/// The first row of data: below a row of as many words, or followed by another of the same number of cells. The last row of a file may
/// have fewer, being incomplete.
std::optional<std::size_t> first_data(const std::vector<Line>& lines, const std::vector<Row>& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!is_data(rows[i])) continue;
    if (below_words(lines, rows, i)) return i;
    const std::size_t next = next_row(lines, i);
    if (next >= rows.size()) return i;
    const std::size_t cells = rows[i].cells.size();
    if (is_data(rows[next]) && rows[next].cells.size() == cells) return i;
    if (next_row(lines, next) >= rows.size() && rows[next].cells.size() <= cells) return i;
  }
  return std::nullopt;
}

bool is_header(const Row& row, std::size_t columns) {
  // a delimiter at the end of the rows but not of the header, or the other way round, is forgiven
  const std::size_t cells = row.cells.size();
  const bool fits = cells == columns || cells + 1 == columns || (cells == columns + 1 && row.cells.back().text.empty());
  if (!fits || row.words == 0) return false;
  // channels may be called 1, 2, 3, when the first cell makes clear that this is a header
  return row.numbers == 0 || is_time_name(row.cells.front().text);
}

/// Looks for a header above row `data`, and lowers `data` to the row below it.
std::optional<std::size_t> header_above(const std::vector<Row>& rows, std::size_t& data, std::size_t columns) {
  for (std::size_t i = data; i-- > 0;) {
    const Row& row = rows[i];
    if (row.cells.empty()) continue;
    if (is_header(row, columns)) {
      data = i + 1;
      return i;
    }
    if (columns < 2 || row.cells.size() != columns) return std::nullopt;  // junk ends the search
  }
  return std::nullopt;
}

std::vector<ColumnName> names_of(const std::vector<Cell>& cells, std::size_t columns) {
  std::vector<ColumnName> names;
  names.reserve(cells.size());
  for (const Cell& cell : cells) names.push_back(column_name(cell.text));
  names.resize(columns);
  return names;
}

/// A header written as a comment right above the data.
std::vector<ColumnName> names_in_comment(const std::vector<Line>& lines, std::size_t data, std::size_t columns,
                                         const CellStyle& style) {
  if (data == 0 || !lines[data - 1].comment) return {};
  std::string_view text = trimmed(lines[data - 1].text);
  text.remove_prefix(std::min(text.find_first_not_of("#%/"), text.size()));
  const Row row = row_of(trimmed(text), style);
  if (columns < 2 || row.cells.size() != columns || row.numbers > 0 || row.words != columns) return {};
  return names_of(row.cells, columns);
}

struct Candidate {
  CellStyle style;
  std::vector<Row> rows;
  std::size_t data = 0;
  std::size_t columns = 0;
};

std::optional<Candidate> candidate_under(const std::vector<Line>& lines, char delimiter) {
  Candidate c;
  c.style = {delimiter, delimiter != ','};
  c.rows = rows_under(lines, c.style);
  const auto data = first_data(lines, c.rows);
  if (!data) return std::nullopt;
  c.data = *data;
  c.columns = c.rows[*data].cells.size();
  return c;
}

/// With a column of words in every row there are no rows of numbers alone: below an all-word header, rows with as many cells and a number.
std::optional<Candidate> candidate_with_words(const std::vector<Line>& lines, char delimiter) {
  Candidate c;
  c.style = {delimiter, delimiter != ','};
  c.rows = rows_under(lines, c.style);
  for (std::size_t i = 0; i + 1 < c.rows.size(); ++i) {
    const std::size_t columns = c.rows[i].cells.size();
    if (columns < 2 || c.rows[i].numbers > 0 || c.rows[i].words != columns) continue;
    const std::size_t next = next_row(lines, i);
    if (next >= c.rows.size() || c.rows[next].cells.size() != columns || c.rows[next].numbers == 0) continue;
    c.data = next;
    c.columns = columns;
    return c;
  }
  return std::nullopt;
}

Candidate choose(const std::vector<Line>& lines, const std::string& file) {
  std::optional<Candidate> one_column;
  for (const char delimiter : {';', '\t', ',', ' ', '\0'}) {
    auto c = candidate_under(lines, delimiter);
    if (!c) continue;
    if (c->columns < 2) {
      if (!one_column) one_column = std::move(c);
      continue;
    }
    if (delimiter == ',' && c->columns == 2) {
      // one column with decimal commas looks like two of whole numbers; a header of one word tells
      auto single = candidate_under(lines, '\0');
      std::size_t data = single ? single->data : 0;
      const auto header = single && data > 0 ? header_above(single->rows, data, 1) : std::nullopt;
      if (header && c->rows[*header].cells.size() == 1) return *single;
    }
    return *c;
  }
  if (one_column) {
    one_column->style = {'\0', true};
    one_column->rows = rows_under(lines, one_column->style);
    return *one_column;
  }
  for (const char delimiter : {';', '\t', ',', ' '})
    if (auto c = candidate_with_words(lines, delimiter)) return *c;
  const auto first = std::find_if(lines.begin(), lines.end(), [](const Line& line) { return !line.comment; });
  const Line& shown_line = first == lines.end() ? lines.front() : *first;
  refuse({file, shown_line.number}, shown_line.text,
         "there are no rows of numbers in the first lines, which a recording has: numbers parted by commas, "
         "semicolons, tabs "
         "or blanks, the same count on every line");
}

}  // namespace

std::size_t zeros_before(std::string_view text) {
  const std::size_t zeros = text.substr(0, most_zeros_first + 1).find_first_not_of('\0');
  return zeros == std::string_view::npos || is_control(text[zeros]) ? 0 : zeros;
}

TextLayout find_text_layout(std::string_view text, const std::string& file) {
  if (text.empty()) refuse({file}, "is empty");
  const std::size_t zeros = zeros_before(text);
  refuse_unless_text(text, zeros, file);
  const std::size_t mark = zeros + (text.substr(zeros).starts_with("\xef\xbb\xbf") ? 3 : 0);
  const std::vector<Line> lines = first_lines(text.substr(0, text.substr(0, looked_at_bytes).find('\0', zeros)), mark);
  if (lines.empty())
    refuse({file}, text.size() > looked_at_bytes ? "has no line end in its first 256 KiB; it is no table of text"
                                                 : "holds nothing but blank lines");
  Candidate c = choose(lines, file);

  TextLayout layout;
  if (zeros > 0)
    layout.warnings.push_back(
        {"zero_bytes_at_start",
         message_at({file, 1, 0},
                    fmt::format("the first {} bytes are zero, as a serial line sends when it opens; they are ignored",
                                zeros))});
  layout.style = c.style;
  layout.columns = c.columns;
  std::size_t data = c.data;
  if (auto header = header_above(c.rows, data, c.columns)) {
    const auto& cells = c.rows[*header].cells;
    const auto units =
        std::count_if(cells.begin(), cells.end(), [](const Cell& cell) { return is_unit_cell(cell.text); });
    const bool units_line = is_unit_cell(cells.front().text) && 2 * units >= static_cast<std::ptrdiff_t>(cells.size());
    if (units_line && *header > 0 && is_header(c.rows[*header - 1], c.columns)) {
      layout.names = names_of(c.rows[*header - 1].cells, c.columns);
      for (std::size_t k = 0; k < cells.size() && k < c.columns; ++k) layout.names[k].unit = bare_unit(cells[k].text);
    } else {
      layout.names = names_of(cells, c.columns);
    }
  } else {
    layout.names = names_in_comment(lines, data, c.columns, c.style);
  }
  layout.data_byte = lines[data].byte;
  layout.data_line = lines[data].number;

  for (std::size_t i = 0; i < data; ++i)
    if (!layout.stated_rate) layout.stated_rate = stated_rate_in(lines[i].text);

  std::vector<std::size_t> numbers(c.columns), words(c.columns);
  for (std::size_t i = data; i < lines.size(); ++i) {
    if (lines[i].comment || c.rows[i].cells.size() != c.columns) continue;
    std::vector<std::string> cells;
    for (std::size_t k = 0; k < c.columns; ++k) {
      const Cell& cell = c.rows[i].cells[k];
      const CellKind kind = kind_of(cell.text, c.style.decimal_comma || cell.quoted);
      numbers[k] += kind == CellKind::number || kind == CellKind::clock;
      words[k] += kind == CellKind::word;
      cells.emplace_back(cell.text);
    }
    layout.first_rows.push_back(std::move(cells));
  }
  for (std::size_t k = 0; k < c.columns; ++k) {
    layout.is_text.push_back(numbers[k] == 0 && words[k] > 0);
    if (layout.is_text.back())
      layout.warnings.push_back(
          {"text_column_left_out",
           message_at({file, layout.data_line}, layout.names.empty() ? fmt::format("{}", k + 1) : layout.names[k].name,
                      "this column holds words, not samples, and is left out")});
  }
  return layout;
}

}  // namespace pulsewright::reading
