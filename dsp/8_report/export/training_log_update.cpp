/// Sessions kept in a log without touching what else stands in it.
#include <algorithm>
#include <array>
#include <functional>
#include <tuple>

#include "8_report/text/csv_table.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright {

namespace {

/// The columns that a log begins with.
constexpr std::array<std::string_view, 14> log_columns{"date",
                                                       "code",
                                                       "session",
                                                       "activity",
                                                       "duration_min",
                                                       "measured_min",
                                                       "mean_reserve_percent",
                                                       "in_target_min",
                                                       "moderate_or_harder_min",
                                                       "impulse_men",
                                                       "impulse_women",
                                                       "weighted_min",
                                                       "exertion",
                                                       "content"};

/// Puts the cell of one of our columns; an empty one where the column is none of ours.
void put_cell(CsvTable& row, std::string_view column, const LogEntry& entry) {
  const auto exertion = entry.exertion ? std::optional<std::int64_t>(*entry.exertion) : std::nullopt;
  if (column == "date")
    row.text(entry.date);
  else if (column == "code")
    row.text(entry.code);
  else if (column == "session")
    row.text(entry.session);
  else if (column == "activity")
    row.text(entry.activity);
  else if (column == "duration_min")
    row.number(entry.minutes, 3);
  else if (column == "measured_min")
    row.number(entry.measured_minutes, 3);
  else if (column == "mean_reserve_percent")
    row.number(entry.mean_reserve_percent, 2);
  else if (column == "in_target_min")
    row.number(entry.in_target_minutes, 3);
  else if (column == "moderate_or_harder_min")
    row.number(entry.moderate_minutes, 3);
  else if (column == "impulse_men")
    row.number(entry.impulse_men, 2);
  else if (column == "impulse_women")
    row.number(entry.impulse_women, 2);
  else if (column == "weighted_min")
    row.number(entry.weighted_minutes, 2);
  else if (column == "exertion")
    row.count(exertion);
  else if (column == "content")
    row.text(entry.content);
  else
    row.text("");
}

/// A row of the file, or one that is new.
struct Row {
  LogEntry entry;
  std::string bytes;               ///< with its line end, and the comments above it
  std::size_t comments = 0;        ///< of these bytes, so many are comments above
  std::vector<std::string> other;  ///< cells by column, of which those that are not ours are kept
};

auto order_of(const LogEntry& entry) { return std::tie(entry.date, entry.code, entry.session, entry.content); }

class LogText {
 public:
  LogText(std::string_view bytes, const std::string& file) {
    if (bytes.empty()) {
      CsvTable header({}, style_);
      for (const std::string_view column : log_columns) {
        columns_.emplace_back(column);
        header.text(column);
      }
      header.end_row();
      head_ = header.take();
      return;
    }
    const Table table = table_of(bytes, file);
    std::vector<LogEntry> entries = log_of(table);
    columns_ = table.columns;
    style_ = style_of(table);
    take_rows(bytes, table, std::move(entries));
    if (!table.column("content")) add_content_column();
  }

  void keep(const LogEntry& entry, LogUpdate& update) {
    const auto same =
        std::find_if(rows_.begin(), rows_.end(), [&](const Row& row) { return row.entry.is_same_session(entry); });
    if (same != rows_.end()) {
      same->bytes.resize(same->comments);
      same->bytes += row_bytes(entry, same->other);
      same->entry = entry;
      ++update.replaced;
      return;
    }
    const auto names = [&](const Row& row) {
      return std::tie(row.entry.date, row.entry.code, row.entry.session) ==
             std::tie(entry.date, entry.code, entry.session);
    };
    update.beside_another += std::any_of(rows_.begin(), rows_.end(), names);
    const auto later =
        std::find_if(rows_.begin(), rows_.end(), [&](const Row& row) { return order_of(entry) < order_of(row.entry); });
    rows_.insert(later, Row{entry, row_bytes(entry, {}), 0, {}});
    ++update.added;
  }

  [[nodiscard]] std::string bytes() const {
    std::string all = head_;
    for (const Row& row : rows_) all += row.bytes;
    return all + tail_;
  }

 private:
  static NumberStyle style_of(const Table& table) {
    NumberStyle style{'.', table.delimiter};
    for (const TableRow& row : table.rows)
      if (table.delimiter != ',' && table.cell(row, "duration_min").find(',') != std::string_view::npos)
        style.decimal = ',';
    return style;
  }

  /// Cuts the bytes behind the header into rows, each with the comments above it.
  void take_rows(std::string_view bytes, const Table& table, std::vector<LogEntry> entries) {
    std::size_t at = 0;
    std::int64_t line = 1;
    const auto take_to = [&](std::int64_t last) {
      const std::size_t from = at;
      for (; line <= last; ++line) at = std::min(bytes.find('\n', at), bytes.size() - 1) + 1;
      std::string taken{bytes.substr(from, at - from)};
      if (at == bytes.size() && !taken.empty() && taken.back() != '\n') taken += line_end_;
      return taken;
    };
    head_ = take_to(table.header_line);
    if (head_.ends_with("\r\n")) line_end_ = "\r\n";
    if (head_.back() != '\n') head_ += line_end_;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
      Row row;
      row.bytes = take_to(table.rows[i].line - 1);
      row.comments = row.bytes.size();
      row.bytes += take_to(table.rows[i].last_line);
      row.entry = std::move(entries[i]);
      row.other = table.rows[i].cells;
      rows_.push_back(std::move(row));
    }
    tail_ = bytes.substr(at);
  }

  /// Rows may have fewer cells than there are columns, so that those that are there stay as they are.
  void add_content_column() {
    head_.resize(head_.size() - line_end_.size());
    head_ += style_.separator;
    head_ += "content" + line_end_;
    columns_.emplace_back("content");
  }

  [[nodiscard]] std::string row_bytes(const LogEntry& entry, const std::vector<std::string>& other) const {
    CsvTable row({}, style_);
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      const bool ours = std::find(log_columns.begin(), log_columns.end(), columns_[k]) != log_columns.end();
      if (ours)
        put_cell(row, columns_[k], entry);
      else
        row.text(k < other.size() ? std::string_view{other[k]} : std::string_view{});
    }
    row.end_row();
    std::string bytes = row.take();
    bytes.pop_back();
    return bytes + line_end_;
  }

  NumberStyle style_;
  std::string line_end_ = "\n";
  std::vector<std::string> columns_;
  std::string head_, tail_;
  std::vector<Row> rows_;
};

}  // namespace

LogUpdate log_with(std::string_view bytes, const std::string& file, const std::vector<LogEntry>& entries) {
  LogText log{bytes, file};
  LogUpdate update;
  for (const LogEntry& entry : entries) log.keep(entry, update);
  update.bytes = log.bytes();
  return update;
}

}  // namespace pulsewright
