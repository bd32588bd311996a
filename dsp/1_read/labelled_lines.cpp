#include "labelled_lines.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include "clock_text.hpp"
#include "number_text.hpp"
#include "text_cell.hpp"
#include "text_layout.hpp"

namespace pulsewright::reading {

namespace {

/// What is looked at to tell the form.
constexpr std::size_t looked_at_lines = 50;
constexpr std::size_t looked_at_bytes = std::size_t{1} << 16;
constexpr std::string_view separators = ",;\t ";
constexpr std::string_view arrow = "->";

using Labels = std::vector<std::string_view>;

/// A line taken apart.
struct LabelledLine {
  std::string_view clock;  ///< empty without an arrow
  Labels labels;           ///< one a value, empty where there is none
  std::vector<std::string_view> values;
};

bool is_value(std::string_view text) { return whole_number(text) || (!text.empty() && is_missing(text)); }

bool is_label(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; });
}

/// Takes the next value, with its label if it has one, off `rest`; false when there is something else.
bool take_value(std::string_view& rest, LabelledLine& line) {
  const std::size_t end = std::min(rest.find_first_of(separators), rest.size());
  std::string_view label;
  std::size_t from = 0;
  if (!is_value(rest.substr(0, end))) {
    const std::size_t mark = rest.find_first_of(":=");
    if (mark == rest.npos || rest.find_first_of(",;\t") < mark) return false;
    label = trimmed(rest.substr(0, mark));
    if (!is_label(label)) return false;
    from = std::min(rest.find_first_not_of(' ', mark + 1), rest.size());
  }
  const std::size_t behind = std::min(rest.find_first_of(separators, from), rest.size());
  const std::string_view value = rest.substr(from, behind - from);
  if (!is_value(value) && !(value.empty() && !label.empty())) return false;
  line.labels.push_back(label);
  line.values.push_back(value);
  rest.remove_prefix(behind);
  return true;
}

std::optional<LabelledLine> taken_apart(std::string_view text) {
  LabelledLine line;
  std::string_view rest = trimmed(text);
  if (const std::size_t at = rest.find(arrow); at != rest.npos) {
    const std::string_view before = trimmed(rest.substr(0, at));
    const auto clock = parse_clock(before);
    if (!clock || !clock->has_time) return std::nullopt;
    line.clock = before;
    rest.remove_prefix(at + arrow.size());
  }
  for (;;) {
    rest.remove_prefix(std::min(rest.find_first_not_of(separators), rest.size()));
    if (rest.empty()) break;
    if (!take_value(rest, line)) return std::nullopt;
  }
  // A time with nothing behind it is a sample that was not recorded.
  if (line.values.empty() && line.clock.empty()) return std::nullopt;
  return line;
}

bool all_labelled(const LabelledLine& line) {
  return std::none_of(line.labels.begin(), line.labels.end(), [](std::string_view label) { return label.empty(); });
}

/// The form of a file's rows.
struct Form {
  bool clock = false;
  Labels labels;
};

std::optional<Form> form_of(std::string_view text) {
  text = text.substr(0, looked_at_bytes);
  std::size_t lines = 0, of_form = 0;
  std::map<std::pair<bool, Labels>, std::size_t> forms;
  while (!text.empty() && lines < looked_at_lines) {
    const std::string_view line = take_line(text);
    if (trimmed(line).empty() || is_comment(line)) continue;
    ++lines;
    // The commonest text has neither mark: it costs a look at its first lines and no more.
    if (line.find_first_of(":=>") == line.npos) continue;
    const auto apart = taken_apart(line);
    if (!apart || (apart->clock.empty() && !all_labelled(*apart))) continue;
    ++of_form;
    if (apart->values.empty()) continue;
    ++forms[{!apart->clock.empty(), apart->labels}];
  }
  if (forms.empty() || 2 * of_form < lines) return std::nullopt;
  const auto commonest =
      std::max_element(forms.begin(), forms.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  return Form{commonest->first.first, commonest->first.second};
}

/// The line's values where the form has their labels; false when the line is of another form.
bool put_row(const LabelledLine& line, const Form& form, std::vector<std::string_view>& cells) {
  if (line.clock.empty() == form.clock || line.values.size() > form.labels.size()) return false;
  std::fill(cells.begin(), cells.end(), std::string_view{});
  for (std::size_t k = 0; k < line.values.size(); ++k) {
    const auto place = line.labels[k].empty() ? form.labels.begin() + static_cast<std::ptrdiff_t>(k)
                                              : std::find(form.labels.begin(), form.labels.end(), line.labels[k]);
    if (place == form.labels.end() || !place->empty() != !line.labels[k].empty()) return false;
    cells[static_cast<std::size_t>(place - form.labels.begin())] = line.values[k];
  }
  return line.values.empty() || line.values.size() == form.labels.size() || !form.labels.front().empty();
}

}  // namespace

std::optional<PlainRows> plain_rows(std::string_view text) {
  const std::string_view zeros = text.substr(0, zeros_before(text));
  text.remove_prefix(zeros.size());
  const std::optional<Form> form = form_of(text);
  if (!form) return std::nullopt;
  PlainRows rows;
  if (form->clock) rows.names.push_back(column_name("time"));
  for (const std::string_view label : form->labels)
    rows.names.push_back(label.empty() ? ColumnName{} : column_name(label));
  rows.text.reserve(zeros.size() + text.size());
  rows.text = zeros;  // the reader of rows tells of them
  std::vector<std::string_view> cells(form->labels.size());
  while (!text.empty()) {
    const std::size_t length = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, length);
    const auto apart = is_comment(line) ? std::nullopt : taken_apart(line);
    if (apart && put_row(*apart, *form, cells)) {
      rows.text += apart->clock;
      for (std::size_t k = 0; k < cells.size(); ++k) {
        if (k > 0 || form->clock) rows.text += ',';
        rows.text += cells[k];
      }
    } else {
      rows.text += line;
    }
    if (length < text.size()) rows.text += '\n';
    text.remove_prefix(std::min(length + 1, text.size()));
  }
  return rows;
}

}  // namespace pulsewright::reading
