#include "text_page.hpp"

#include <algorithm>

#include "pulsewright/report.hpp"
#include "valid_text.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t page_width = 80;  ///< the narrowest terminal in use
constexpr std::size_t narrowest_note = 24;
constexpr std::string_view indent = "  ";

/// Characters, not bytes: continuation bytes of UTF-8 take no room.
std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

void pad(std::string& bytes, std::size_t from, std::size_t to) {
  if (from < to) bytes.append(to - from, ' ');
}

void trim_end(std::string& bytes) {
  while (!bytes.empty() && bytes.back() == ' ') bytes.pop_back();
}

}  // namespace

std::string wrap(std::string_view text, std::size_t width, std::string_view begin) {
  std::string bytes, line;
  std::size_t place = 0;
  while (place < text.size()) {
    std::size_t end = std::min(text.find(' ', place), text.size());
    if (text.substr(end).starts_with(" %"))
      end = std::min(text.find(' ', end + 1), text.size());  // 31 % stays together
    const std::string_view word = text.substr(place, end - place);
    if (!line.empty() && begin.size() + width_of(line) + 1 + width_of(word) > width) {
      bytes.append(begin).append(line).push_back('\n');
      line.clear();
    }
    if (!word.empty()) line.append(line.empty() ? "" : " ").append(word);
    place = end + 1;
  }
  if (!line.empty()) bytes.append(begin).append(line).push_back('\n');
  return bytes;
}

std::string with_unit(std::string_view number, std::string_view unit) {
  if (number.empty()) return "none";
  return std::string(number) + (unit.empty() ? "" : " ") + std::string(unit);
}

std::string brief_number(const std::optional<double>& value, int most_decimals) {
  std::string text = format_number(value, most_decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string spaced(std::string_view name) {
  std::string text(name);
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

std::string counted(long long n, std::string_view singular, std::string_view plural) {
  return std::to_string(n) + " " + std::string(n == 1 ? singular : plural);
}

void add_reasons(TextPage& page, const std::vector<Reason>& reasons) {
  if (reasons.empty()) return;
  page.blank().heading("Why some values are missing");
  std::vector<std::string> said;
  for (const Reason& reason : reasons) {
    if (std::find(said.begin(), said.end(), reason.reason) != said.end()) continue;
    said.push_back(reason.reason);
    page.paragraph(reason.reason);
  }
}

TextPage& TextPage::heading(std::string_view line) {
  flush_rows();
  bytes_.append(line).push_back('\n');
  return *this;
}

TextPage& TextPage::row(std::string_view label, std::string_view value, std::string_view note) {
  rows_.push_back({std::string(label), std::string(value), std::string(note)});
  return *this;
}

TextPage& TextPage::paragraph(std::string_view text) {
  flush_rows();
  bytes_ += wrap(text, page_width, indent);
  return *this;
}

TextPage& TextPage::table(const std::vector<std::vector<std::string>>& rows) {
  flush_rows();
  std::vector<std::size_t> widths;
  for (const auto& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (widths.size() <= i) widths.push_back(0);
      widths[i] = std::max(widths[i], width_of(row[i]));
    }
  for (const auto& row : rows) {
    std::string line(indent);
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i > 0) line += "  ";
      if (i > 0 && !row[i].starts_with('=')) pad(line, width_of(row[i]), widths[i]);  // bars begin together
      line += row[i];
      if (i == 0) pad(line, width_of(row[i]), widths[i]);
    }
    trim_end(line);
    bytes_ += line + "\n";
  }
  return *this;
}

TextPage& TextPage::blank() {
  flush_rows();
  bytes_.push_back('\n');
  return *this;
}

std::string TextPage::take() {
  flush_rows();
  return valid_text(bytes_, Controls::line_ends);
}

void TextPage::flush_rows() {
  std::size_t labels = 0, values = 0;
  for (const Row& row : rows_) {
    labels = std::max(labels, width_of(row.label));
    if (!row.note.empty()) values = std::max(values, width_of(row.value));
  }
  for (const Row& row : rows_) {
    std::string line(indent);
    line += row.label;
    pad(line, width_of(row.label), labels + 2);
    line += row.value;
    if (!row.note.empty()) {
      pad(line, width_of(row.value), values + 2);
      // A note too long for the line goes on below itself.
      const std::size_t column = indent.size() + labels + 2 + values + 2;
      line += wrap(row.note, std::max(page_width, column + narrowest_note), std::string(column, ' ')).substr(column);
      line.pop_back();
    }
    trim_end(line);
    bytes_ += line + "\n";
  }
  rows_.clear();
}

}  // namespace pulsewright
