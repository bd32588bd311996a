#include "rate_columns.hpp"

#include <algorithm>

#include "8_report/text/csv_table.hpp"

namespace pulsewright {
namespace {

constexpr double us_per_s = 1e6;

Seconds centre_of(const RateWindow& window) { return window.window.start + window.window.length() / 2; }

void take_in(RateColumn& column, const RateWindow& window) {
  if (!window.rate) {
    ++column.missing;
    return;
  }
  const double rate = window.rate->value();
  const double low = window.low.value_or(*window.rate).value(), high = window.high.value_or(*window.rate).value();
  const double confidence = window.confidence.value_or(0);
  if (!column.measured) {
    column.measured = true;
    column.lowest = column.highest = rate;
    column.low = low;
    column.high = high;
    column.confidence = confidence;
    return;
  }
  column.lowest = std::min(column.lowest, rate);
  column.highest = std::max(column.highest, rate);
  column.low = std::min(column.low, low);
  column.high = std::max(column.high, high);
  column.confidence = std::min(column.confidence, confidence);
}

}  // namespace

std::vector<RateColumn> rate_columns(const RateSeries& rates, std::size_t most) {
  const std::size_t size = rates.windows.size();
  std::vector<RateColumn> columns(std::min(most, size));
  for (std::size_t k = 0; k < columns.size(); ++k) {
    const std::size_t first = k * size / columns.size(), last = (k + 1) * size / columns.size();
    columns[k].span = {centre_of(rates.windows[first]), centre_of(rates.windows[last - 1])};
    for (std::size_t i = first; i < last; ++i) take_in(columns[k], rates.windows[i]);
  }
  return columns;
}

std::vector<Span> unmeasured_stretches(const RateSeries& rates) {
  std::vector<Span> stretches;
  for (const EffortCell& cell : effort_cells(rates)) {
    if (cell.rate) continue;
    const Seconds start{static_cast<double>(cell.start_us) / us_per_s};
    const Seconds end{static_cast<double>(cell.start_us + cell.length_us) / us_per_s};
    if (!stretches.empty() && stretches.back().end == start)
      stretches.back().end = end;
    else
      stretches.push_back({start, end});
  }
  return stretches;
}

std::string rate_columns_csv(const std::vector<RateColumn>& columns, const NumberStyle& style) {
  CsvTable table({"first_centre_s", "last_centre_s", "lowest_bpm", "highest_bpm", "low_bpm", "high_bpm",
                  "least_confidence", "missing_windows_count"},
                 style);
  for (const RateColumn& column : columns) {
    const auto value = [&column](double number) {
      return column.measured ? std::optional<double>(number) : std::nullopt;
    };
    table.number(column.span.start.value(), 3).number(column.span.end.value(), 3);
    table.number(value(column.lowest), 2).number(value(column.highest), 2);
    table.number(value(column.low), 2).number(value(column.high), 2);
    table.number(value(column.confidence), 3).count(column.missing).end_row();
  }
  return table.take();
}

}  // namespace pulsewright
