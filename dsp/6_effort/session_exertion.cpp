#include <cmath>
#include <cstdlib>

#include "effort_account.hpp"
#include "session_parts.hpp"

namespace pulsewright {

namespace {

/// Categories between what was said and measured from which people talk about it (ours).
constexpr int far_apart_categories = 2;
constexpr BeatsPerMinute least_reserve{20.0};

std::optional<BeatsPerMinute> mean_of_work(const SessionEffort& session) {
  double beats = 0, measured_s = 0;
  for (const Phase& phase : session.phases) {
    if (phase.kind != PhaseKind::work || !phase.mean_rate) continue;
    const double length = static_cast<double>(phase.length_us - phase.unmeasured_us);
    beats += phase.mean_rate->value() * length;
    measured_s += length;
  }
  if (measured_s > 0) return BeatsPerMinute{beats / measured_s};
  return session.effort.mean_rate;
}

ExertionComparison compare(const Effort& effort, int exertion, BeatsPerMinute mean) {
  ExertionComparison result;
  result.exertion = exertion;
  result.said = intensity_of_exertion(exertion);
  const BeatsPerMinute base = effort.resting ? effort.resting->rate : BeatsPerMinute{0.0};
  const auto& bounds = effort.resting ? reserve_bounds : maximum_bounds;
  const auto category = [&](BeatsPerMinute maximum) { return intensity_of_rate(mean, base, maximum, bounds); };
  const std::vector<BeatsPerMinute> maxima = likely_maxima(*effort.maximum, base + least_reserve);
  result.measured = category(effort.maximum->rate);
  result.measured_low = category(maxima.back());  // a high maximum makes the same rate easier
  result.measured_high = category(maxima.front());
  const int said = static_cast<int>(result.said);
  const int below = static_cast<int>(result.measured_low) - said, above = said - static_cast<int>(result.measured_high);
  result.far_apart = below >= far_apart_categories || above >= far_apart_categories;
  return result;
}

}  // namespace

void add_exertion(SessionEffort& session) {
  const Effort& effort = session.effort;
  if (!effort.maximum) return;
  if (session.options.exertion)
    if (const auto mean = mean_of_work(session))
      session.exertion.push_back(compare(effort, *session.options.exertion, *mean));
  for (std::size_t k = 0; k < session.phases.size(); ++k) {
    const Phase& phase = session.phases[k];
    if (!phase.exertion || !phase.mean_rate) continue;
    session.exertion.push_back(compare(effort, *phase.exertion, *phase.mean_rate));
    session.exertion.back().phase = k;
  }
}

}  // namespace pulsewright
