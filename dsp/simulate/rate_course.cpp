#include "rate_course.hpp"

#include <algorithm>

#include "elementary/elementary.hpp"

namespace pulsewright::simulation {

double settled_rate(const Heart& heart, const WorkPhase& phase) {
  if (phase.target) return phase.target->value();
  return heart.resting.value() + phase.workload * (heart.maximum - heart.resting).value();
}

double demand(const Heart& heart, const WorkPhase& phase) {
  return (settled_rate(heart, phase) - heart.resting.value()) / (heart.maximum - heart.resting).value();
}

RateCourse::RateCourse(const Heart& heart, const WorkPhase& first) : heart_(heart), fast_(settled_rate(heart, first)) {}

double RateCourse::rate() const { return std::min(fast_ + drift_, heart_.maximum.value()); }

void RateCourse::advance(const WorkPhase& phase, double dt) {
  const double goal = settled_rate(heart_, phase);
  const double constant = (goal > fast_ ? heart_.rise : heart_.fall).value();
  fast_ = goal + (fast_ - goal) * elementary::exp(-dt / constant);
  const double drift_goal = heart_.drift.value() * std::clamp(demand(heart_, phase), 0.0, 1.0);
  drift_ = drift_goal + (drift_ - drift_goal) * elementary::exp(-dt / heart_.drift_rise.value());
}

}  // namespace pulsewright::simulation
