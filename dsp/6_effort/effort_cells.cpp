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

/// The windows with the nearest centres before and from a time on.
struct Neighbours {
  const RateWindow* left = nullptr;
  const RateWindow* right = nullptr;
};

Neighbours neighbours_of(const std::vector<RateWindow>& windows, double time) {
  const auto after = std::lower_bound(windows.begin(), windows.end(), time,
                                      [](const RateWindow& w, double t) { return centre_of(w) < t; });
  return {after == windows.begin() ? nullptr : &*(after - 1), after == windows.end() ? nullptr : &*after};
}

/// The rate at a time, where it lies between two measured windows that are not too far apart.
std::optional<BeatsPerMinute> rate_between(const Neighbours& near, double time, double apart) {
  if (!near.left || !near.right || !near.left->rate || !near.right->rate) return std::nullopt;
  const double from = centre_of(*near.left), to = centre_of(*near.right);
  if (to - from > apart) return std::nullopt;
  return *near.left->rate + ((time - from) / (to - from)) * (*near.right->rate - *near.left->rate);
}

/// No heart's rate moves faster, in beats/min a second: a first-order rise by 100 with a time constant of 20 s begins so (ours). What does was measured anew,
/// or made up, and is a step.
constexpr double steepest = 5.0;

/// The rate at an edge between two cells, where it runs through.
std::optional<BeatsPerMinute> rate_at_edge(const std::vector<RateWindow>& windows, double time, double apart) {
  const Neighbours near = neighbours_of(windows, time);
  const auto rate = rate_between(near, time, apart);
  if (!rate) return std::nullopt;
  const double change = (*near.right->rate - *near.left->rate).value();
  return std::abs(change) <= steepest * (centre_of(*near.right) - centre_of(*near.left)) ? rate : std::nullopt;
}

/// Rate of the cell [start, end) in seconds, from windows in order of their centres.
std::optional<BeatsPerMinute> rate_of_cell(const std::vector<RateWindow>& windows, double start, double end,
                                           double apart) {
  // Past the last window there is no measurement to lean on.
  if (!windows.empty() && end > windows.back().window.end.value() + grid_s) return std::nullopt;
  const double centre = 0.5 * (start + end);
  const Neighbours near = neighbours_of(windows, centre);
  if (const auto rate = rate_between(near, centre, apart)) return rate;
  if (near.right && near.right->rate && covers(*near.right, start, end)) return near.right->rate;
  if (near.left && near.left->rate && covers(*near.left, start, end)) return near.left->rate;
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
    EffortCell cell{start, std::min(width_us, duration_us - start), std::nullopt, std::nullopt, std::nullopt};
    const double from = static_cast<double>(start) / 1e6, to = static_cast<double>(start + cell.length_us) / 1e6;
    cell.rate = rate_of_cell(rates.windows, from, to, apart);
    if (cell.rate) {
      cell.rate_at_start = rate_at_edge(rates.windows, from, apart);
      cell.rate_at_end = rate_at_edge(rates.windows, to, apart);
    }
    cells.push_back(cell);
  }
  return cells;
}

}  // namespace pulsewright
