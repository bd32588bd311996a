#include <cmath>

#include "effort_account.hpp"
#include "session_parts.hpp"

namespace pulsewright {

namespace {

Span span_of(std::int64_t start_us, std::int64_t length_us) {
  return {Seconds{static_cast<double>(start_us) / 1e6}, Seconds{static_cast<double>(start_us + length_us) / 1e6}};
}

/// The longest time without a break at or above `low` and below `high`; the earliest of equals.
std::optional<Span> longest_run(std::span<const RateLine> lines, BeatsPerMinute low, BeatsPerMinute high) {
  RateStretch run, best;
  for (const RateLine& line : lines) {
    const RateStretch stretch = stretch_between(line, low, high);
    if (stretch.length_us() == 0) continue;
    if (run.end_us == stretch.start_us)
      run.end_us = stretch.end_us;
    else
      run = stretch;
    if (run.length_us() > best.length_us()) best = run;
  }
  if (best.length_us() == 0) return std::nullopt;
  return span_of(best.start_us, best.length_us());
}

/// The highest mean over whole cells that cover `length_us`, all measured.
std::optional<PeakEffort> highest_mean(const std::vector<EffortCell>& cells, std::int64_t length_us) {
  std::optional<PeakEffort> peak;
  for (std::size_t first = 0; first < cells.size(); ++first) {
    double beats = 0;  // rate x microseconds
    std::int64_t covered = 0;
    for (std::size_t i = first; i < cells.size() && cells[i].rate && covered < length_us; ++i) {
      beats += cells[i].rate->value() * static_cast<double>(cells[i].length_us);
      covered += cells[i].length_us;
    }
    if (covered < length_us) continue;
    const BeatsPerMinute mean{beats / static_cast<double>(covered)};
    if (!peak || peak->rate < mean) peak = PeakEffort{mean, span_of(cells[first].start_us, covered), std::nullopt};
  }
  return peak;
}

}  // namespace

void add_stretches(SessionEffort& session) {
  const Effort& effort = session.effort;
  const std::vector<RateLine> lines = rate_lines(session.cells);
  session.peak = highest_mean(session.cells, std::llround(session.options.peak_window.value() * 1e6));
  if (session.peak) session.peak->reserve_percent = reserve_percent(effort, session.peak->rate);
  if (effort.maximum) {
    const BeatsPerMinute base = effort.resting ? effort.resting->rate : BeatsPerMinute{0.0};
    const auto& bounds = effort.resting ? reserve_bounds : maximum_bounds;
    const double bound = bounds[static_cast<std::size_t>(Intensity::moderate) - 1];
    session.longest_moderate =
        longest_run(lines, from_bound(base + bound * (effort.maximum->rate - base)), no_upper_bound);
  }
  if (effort.target)
    session.longest_in_target = longest_run(lines, from_bound(effort.target->low), past_bound(effort.target->high));
}

void add_scheme(SessionEffort& session) {
  if (!session.options.scheme) return;
  const IntensityScheme& scheme = *session.options.scheme;
  const Effort& effort = session.effort;
  if (!effort.maximum || (scheme.from_reserve && !effort.resting)) {
    session.reasons.push_back(
        {"scheme", scheme.from_reserve ? "needs a maximum and a resting heart rate" : "needs a maximum heart rate"});
    return;
  }
  const BeatsPerMinute base = scheme.from_reserve ? effort.resting->rate : BeatsPerMinute{0.0};
  const BeatsPerMinute whole = effort.maximum->rate - base;
  const auto& categories = scheme.categories;
  const auto bound_of = [&](std::size_t k) {
    return k < categories.size() ? from_bound(base + categories[k].from_fraction * whole) : no_upper_bound;
  };
  const std::vector<RateLine> lines = rate_lines(session.cells);
  session.scheme_us.reserve(categories.size() + 1);
  for (std::size_t k = 0; k < categories.size(); ++k)
    session.scheme_us.push_back(time_between(lines, bound_of(k), bound_of(k + 1)));
  session.scheme_us.push_back(time_between(lines, no_lower_bound, bound_of(0)));
}

}  // namespace pulsewright
