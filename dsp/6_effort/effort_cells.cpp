#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pulsewright/effort.hpp"

namespace pulsewright {

namespace {

double centre_of(const RateWindow& window) { return 0.5 * (window.window.start + window.window.end).value(); }

/// A window's edges and a cell's agree to a rounding of the microsecond grid.
constexpr double grid_s = 1e-6;

bool covers(const RateWindow& window, double start, double end) {
  return window.window.start.value() <= start + grid_s && end <= window.window.end.value() + grid_s;
}

/// Windows whose centres lie further apart than this many steps, or this many seconds, whichever is longer, have a pause between them: rows that a
/// device left out. Nothing is interpolated over it.
constexpr double most_steps_apart = 3.0;
constexpr double most_seconds_apart = 5.0;

/// Rate of the cell [start, end) in seconds, from windows in order of their centres.
std::optional<BeatsPerMinute> rate_of_cell(const std::vector<RateWindow>& windows, double start, double end,
                                           double apart) {
  const double centre = 0.5 * (start + end);
  const auto after = std::lower_bound(windows.begin(), windows.end(), centre,
                                      [](const RateWindow& w, double t) { return centre_of(w) < t; });
  const RateWindow* right = after == windows.end() ? nullptr : &*after;
  const RateWindow* left = after == windows.begin() ? nullptr : &*(after - 1);
  // Past the last window there is no measurement to lean on.
  if (!windows.empty() && end > windows.back().window.end.value() + grid_s) return std::nullopt;
  if (left && right && left->rate && right->rate && centre_of(*right) - centre_of(*left) <= apart) {
    const double weight = (centre - centre_of(*left)) / (centre_of(*right) - centre_of(*left));
    return *left->rate + weight * (*right->rate - *left->rate);
  }
  if (right && right->rate && covers(*right, start, end)) return right->rate;
  if (left && left->rate && covers(*left, start, end)) return left->rate;
  return std::nullopt;
}

}  // namespace

std::vector<EffortCell> effort_cells(const RateSeries& rates) {
  const double step_us = std::round(rates.options.step.value() * 1e6);
  if (!(step_us >= 1.0))
    throw Error{ErrorCode::contract, fmt::format("effort_cells: step {} s; it must be at least one microsecond",
                                                 rates.options.step.value())};
  const std::int64_t duration_us = std::llround(rates.duration.value() * 1e6);
  const std::int64_t width_us = static_cast<std::int64_t>(std::min(step_us, 9e15));
  const double apart = std::max(most_steps_apart * rates.options.step.value(), most_seconds_apart) + grid_s;
  std::vector<EffortCell> cells;
  for (std::int64_t start = 0; start < duration_us; start += width_us) {
    EffortCell cell{start, std::min(width_us, duration_us - start), std::nullopt};
    cell.rate = rate_of_cell(rates.windows, static_cast<double>(start) / 1e6,
                             static_cast<double>(start + cell.length_us) / 1e6, apart);
    cells.push_back(cell);
  }
  return cells;
}

}  // namespace pulsewright
