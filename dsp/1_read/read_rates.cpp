#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "clock_text.hpp"
#include "hash.hpp"
#include "list_span.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/median.hpp"
#include "pulsewright/read.hpp"
#include "text_cell.hpp"
#include "text_layout.hpp"
#include "time_column.hpp"

namespace pulsewright {
namespace {

using namespace reading;

/// Rates whose median lies outside are none of a heart in beats/min (ours: wide of every heart).
constexpr double lowest_median = 20, highest_median = 300;
/// So many rates that no heart has beside others that one may have are in another unit, and no slips of the device (ours).
constexpr double mixed_share = 0.05, lowest_rate = 15, highest_rate = 400;

struct RateColumns {
  std::optional<std::size_t> start, end, time, rate, low, high;
  double time_unit_s = 1;
};

/// Name and unit as one lower-case word: `start_s`, `bpm`, `hr`.
std::string key_of(const ColumnName& column) {
  std::string key = lower_case(column.name);
  std::replace(key.begin(), key.end(), ' ', '_');
  return key;
}

bool names_a_rate(const ColumnName& column) {
  const std::string key = key_of(column), unit = lower_case(column.unit);
  if (unit == "bpm" || unit == "beats/min") return key.find("low") == key.npos && key.find("high") == key.npos;
  return key == "bpm" || key == "rate" || key == "hr" || key == "pulse" || key == "heart_rate" || key == "heartrate";
}

std::string list_of(const std::vector<ColumnName>& names) {
  std::string list;
  for (const ColumnName& name : names) list += (list.empty() ? "'" : ", '") + shown(name.name) + "'";
  return list;
}

std::vector<std::size_t> rate_columns(const std::vector<ColumnName>& names, const std::string& asked) {
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < names.size(); ++k)
    if (asked.empty() ? names_a_rate(names[k]) : names[k].name == asked) found.push_back(k);
  return found;
}

std::size_t rate_column(const std::vector<ColumnName>& names, const std::string& asked, const std::string& file) {
  const std::vector<std::size_t> found = rate_columns(names, asked);
  if (found.size() == 1) return found.front();
  throw Error{ErrorCode::usage,
              message_at({file}, fmt::format("{} of its columns {} {}; name the one that holds the rate. There are {}",
                                             found.empty() ? "none" : "several",
                                             asked.empty() ? "could hold a heart rate, by" : "are called",
                                             asked.empty() ? "their names" : "'" + asked + "'", list_of(names)))};
}

/// Whether columns are called as times, rates and their bounds, and none of them as a pulse wave may be.
bool holds_nothing_else(const std::vector<ColumnName>& names) {
  return std::all_of(names.begin(), names.end(), [](const ColumnName& name) {
    const std::string key = key_of(name);
    return key == "low_bpm" || key == "high_bpm" || is_time_name(key) || is_time_name(name.name) ||
           (key != "pulse" && names_a_rate(name));
  });
}

RateColumns columns_of(const TextLayout& layout, const std::string& asked, const std::string& file) {
  if (layout.names.empty())
    refuse({file, layout.data_line}, "a table of rates has a line with the names of its columns");
  RateColumns columns;
  for (std::size_t k = 0; k < layout.columns; ++k) {
    const std::string key = key_of(layout.names[k]);
    if (key == "start_s" || key == "window_start_s" || key == "start")
      columns.start = k;
    else if (key == "end_s" || key == "window_end_s" || key == "end")
      columns.end = k;
    else if (key == "low_bpm")
      columns.low = k;
    else if (key == "high_bpm")
      columns.high = k;
    else if (!columns.time && (is_time_name(key) || is_time_name(layout.names[k].name)))
      columns.time = k;
  }
  columns.rate = rate_column(layout.names, asked, file);
  if (columns.time)
    // Of a clock, no unit is stated.
    if (const auto unit = stated_unit(layout.names[*columns.time]); unit && seconds_in(*unit) > 0)
      columns.time_unit_s = seconds_in(*unit);
  if (!(columns.start && columns.end) && !columns.time)
    refuse({file}, fmt::format("a table of rates has start_s and end_s, or a time in seconds; there are {}",
                               list_of(layout.names)));
  return columns;
}

/// What the rates may be when they are no beats/min.
std::string unit_advice(double median) {
  if (median > 0.3 && median < 5) return "; they look like hertz";
  if (median > highest_median && median < 3000) return "; they look like intervals in ms";
  return "";
}

void check_unit(const RateSeries& series, const std::string& file) {
  std::vector<double> rates;
  for (const RateWindow& window : series.windows)
    if (window.rate) rates.push_back(window.rate->value());
  if (rates.empty()) return;
  const double middle = upper_median(std::span(rates));
  if (middle < lowest_median || middle > highest_median)
    refuse({file}, fmt::format("its rates have the median {:.4g}, which is no heart rate in beats/min{}", middle,
                               unit_advice(middle)));
  std::vector<double> others;
  for (const double rate : rates)
    if (rate < lowest_rate || rate > highest_rate) others.push_back(rate);
  if (static_cast<double>(others.size()) < mixed_share * static_cast<double>(rates.size()) || others.empty()) return;
  refuse({file},
         fmt::format("{} of its {} rates, as {:.4g}, are none in beats/min while the others may be{}: are units mixed?",
                     others.size(), rates.size(), others.front(), unit_advice(others.front())));
}

/// Seconds of clock times since the first; over midnight where there are no dates.
class ClockSeconds {
 public:
  std::optional<double> since_first(std::string_view cell) {
    constexpr double day_s = 86400;
    const auto clock = parse_clock(cell);
    if (!clock || !clock->has_time) return std::nullopt;
    double seconds = clock->second + (clock->day ? day_s * static_cast<double>(*clock->day) : 0) -
                     static_cast<double>(clock->zone.value_or(0));
    if (!first_) first_ = seconds;
    seconds -= *first_;
    while (!clock->day && seconds < last_ - 0.5 * day_s) seconds += day_s;
    last_ = seconds;
    return seconds;
  }

 private:
  std::optional<double> first_;
  double last_ = 0;
};

double median_step(const std::vector<RateWindow>& windows) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < windows.size(); ++i)
    steps.push_back((windows[i].window.start - windows[i - 1].window.start).value());
  if (steps.empty()) return 1;
  return upper_median(std::span(steps));
}

}  // namespace

RateSeries read_rates(const std::filesystem::path& path, const std::string& column) {
  const MappedFile file{path};
  if (file.size() == 0) refuse({file.name()}, "is empty");
  const TextLayout layout = find_text_layout(file.text(), file.name());
  const RateColumns columns = columns_of(layout, column, file.name());
  RateSeries series;
  ClockSeconds clock;
  std::string_view rest = file.text().substr(layout.data_byte);
  std::int64_t number = layout.data_line - 1;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++number;
    if (trimmed(line).empty() || is_comment(line)) continue;
    const auto cells = cells_of(line, layout.style.delimiter);
    const auto cell = [&](std::size_t k) { return k < cells.size() ? cells[k].text : std::string_view{}; };
    const auto value_of = [&](std::optional<std::size_t> k) -> std::optional<double> {
      if (!k || is_missing(cell(*k))) return std::nullopt;
      const auto value = number_in(cell(*k), layout.style.decimal_comma);
      if (!value) refuse({file.name(), number, std::nullopt, layout.names[*k].name}, cell(*k), "is not a number");
      return value;
    };
    const auto time_of_row = [&](std::optional<std::size_t> k) {
      auto time = clock.since_first(cell(*k));
      if (!time) time = value_of(k);
      if (!time)
        refuse({file.name(), number, std::nullopt, layout.names[*k].name}, cell(*k), "a row of rates has a time");
      return Seconds{*time};
    };
    RateWindow window;
    const bool spans = columns.start && columns.end;
    window.window.start = spans ? time_of_row(columns.start) : columns.time_unit_s * time_of_row(columns.time);
    window.window.end = spans ? time_of_row(columns.end) : window.window.start;
    if (spans && !(window.window.start < window.window.end))
      refuse({file.name(), number}, line, "a window ends after it starts");
    if (!series.windows.empty() && !(series.windows.back().window.start < window.window.start))
      refuse({file.name(), number}, line, "times of rates rise from row to row");
    const auto rate = value_of(columns.rate);
    if (rate && *rate > 0) {  // devices write 0 or a negative number where they have no rate
      window.rate = BeatsPerMinute{*rate};
      window.method = RateMethod::device;
      const auto low = value_of(columns.low), high = value_of(columns.high);
      if (low && high) {
        window.low = BeatsPerMinute{*low};
        window.high = BeatsPerMinute{*high};
      }
    }
    series.windows.push_back(window);
    check_list_time({file.name(), number}, (window.window.end - series.windows.front().window.start).value());
  }
  if (series.windows.empty()) refuse({file.name()}, "holds no rates");
  series.options.step = Seconds{median_step(series.windows)};
  if (!columns.start || !columns.end)
    // A reading speaks of the time around it, up to half the way to its neighbours.
    for (RateWindow& window : series.windows) {
      window.window.end = window.window.start + 0.5 * series.options.step;
      window.window.start = window.window.start - 0.5 * series.options.step;
    }
  series.options.window = series.windows.front().window.length();
  series.duration = series.windows.back().window.end;
  check_unit(series, file.name());
  series.provenance.input = path.filename().string();
  series.provenance.format = "rate-table";
  series.provenance.sha256 = sha256_of(file.bytes());
  series.provenance.version = version();
  return series;
}

bool holds_rates(const std::filesystem::path& path, const std::string& column) {
  try {
    const MappedFile file{path};
    const TextLayout layout = find_text_layout(file.text(), file.name());
    const std::vector<std::size_t> found = rate_columns(layout.names, column);
    if (found.empty()) return false;
    // Of several, one has to be named: which one is for `read_rates` to ask.
    const std::string any = layout.names[found.front()].name;
    const RateColumns columns = columns_of(layout, any, file.name());
    if (columns.start && columns.end) return true;
    if (holds_nothing_else(layout.names)) return true;
    // Beside a signal a rate is sampled faster than any device shows one.
    return read_rates(path, any).options.step >= Seconds{0.2};
  } catch (const Error&) {
    return false;
  }
}

}  // namespace pulsewright
