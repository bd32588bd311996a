#include <cmath>

#include "effort_account.hpp"
#include "session_parts.hpp"

namespace pulsewright {

namespace {

Span span_of(std::int64_t start_us, std::int64_t length_us) {
  return {Seconds{static_cast<double>(start_us) / 1e6}, Seconds{static_cast<double>(start_us + length_us) / 1e6}};
}

/// The longest run of cells whose rate passes; the earliest of equals.
template <class Passes>
std::optional<Span> longest_run(const std::vector<EffortCell>& cells, Passes passes) {
  std::int64_t start = 0, length = 0, best_start = 0, best_length = 0;
  for (const EffortCell& cell : cells) {
    if (!cell.rate || !passes(*cell.rate)) {
      length = 0;
      continue;
    }
    if (length == 0) start = cell.start_us;
    length += cell.length_us;
    if (length > best_length) {
      best_start = start;
      best_length = length;
    }
  }
  if (best_length == 0) return std::nullopt;
  return span_of(best_start, best_length);
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
  session.peak = highest_mean(session.cells, std::llround(session.options.peak_window.value() * 1e6));
  if (session.peak) session.peak->reserve_percent = reserve_percent(effort, session.peak->rate);
  if (effort.maximum) {
    const BeatsPerMinute base = effort.resting ? effort.resting->rate : BeatsPerMinute{0.0};
    const auto& bounds = effort.resting ? reserve_bounds : maximum_bounds;
    session.longest_moderate = longest_run(session.cells, [&](BeatsPerMinute rate) {
      return intensity_of_rate(rate, base, effort.maximum->rate, bounds) >= Intensity::moderate;
    });
  }
  if (effort.target) {
    const BeatsPerMinute rounding{bound_rounding_bpm};
    session.longest_in_target = longest_run(session.cells, [&](BeatsPerMinute rate) {
      return effort.target->low <= rate + rounding && rate - rounding <= effort.target->high;
    });
  }
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
  session.scheme_us.assign(scheme.categories.size() + 1, 0);
  for (const EffortCell& cell : session.cells) {
    if (!cell.rate) continue;
    const auto category = category_of(scheme, (*cell.rate - base + BeatsPerMinute{bound_rounding_bpm}) / whole);
    session.scheme_us[category.value_or(scheme.categories.size())] += cell.length_us;
  }
}

}  // namespace pulsewright
