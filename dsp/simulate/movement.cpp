#include "movement.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "random.hpp"

namespace pulsewright::simulation {

namespace {

constexpr double step = Timeline::step;
constexpr double margin = Timeline::margin;

/// One line of the movement's spectrum: multiple of the step rate, and its share on each axis in g and phase in turns. The half is the stride (left and
/// right differ). A hand on a stair: up and down strongest, fundamental, then harmonics (ours).
struct Line {
  double multiple;
  std::array<double, 3> g;
  std::array<double, 3> turns;
};
constexpr std::array<Line, 4> lines{
    Line{0.5, {0.06, 0.10, 0.03}, {0.10, 0.35, 0.60}}, Line{1.0, {0.16, 0.08, 0.34}, {0.00, 0.20, 0.25}},
    Line{2.0, {0.09, 0.04, 0.14}, {0.40, 0.70, 0.15}}, Line{3.0, {0.03, 0.02, 0.05}, {0.80, 0.10, 0.55}}};

/// The limb hangs a little askew; length 1 g.
constexpr std::array<double, 3> gravity{0.20, -0.10, 0.97468};
/// How much of each axis moves a loose sensor.
constexpr std::array<double, 3> weight{0.6, -0.3, 1.0};
/// Relative wander of the cadence, its time constant in s, and the time in which movement swells and fades.
constexpr double cadence_wander = 0.03;
constexpr double wander_time = 6.0;
constexpr double swell_time = 0.5;
/// A spell of looseness comes and goes over this time.
constexpr double loosening_time = 0.25;

/// First-order follower.
double follow(double value, double goal, double constant) {
  return goal + (value - goal) * elementary::exp(-step / constant);
}

/// Alternating loose and tight spells over the spans in which the person moves.
std::vector<Span> loose_spells(const std::vector<Span>& moving, const Loosening& loosening, Random random) {
  std::vector<Span> loose;
  for (const Span& span : moving) {
    double t = span.start.value();
    const double end = span.end.value();
    if (loosening.tight.value() <= 0.0) {
      loose.push_back(span);
      continue;
    }
    t += random.uniform() * loosening.tight.value();
    while (t < end) {
      const double until = t + std::max(1.0, random.exponential_with_mean(loosening.loose.value()));
      loose.push_back({Seconds{t}, Seconds{std::min(until, end)}});
      t = until + std::max(1.0, random.exponential_with_mean(loosening.tight.value()));
    }
  }
  return loose;
}

}  // namespace

Movement::Movement(const Scenario& scenario, const Timeline& timeline, double duration)
    : lag_(scenario.loosening.lag.value()) {
  double start = 0.0;
  for (const WorkPhase& phase : scenario.phases) {
    const double end = std::min(start + phase.duration.value(), duration);
    if (phase.cadence.value() > 0.0 && phase.movement > 0.0 && end > start) {
      if (!moving_.empty() && moving_.back().end.value() == start) {
        moving_.back().end = Seconds{end};
      } else {
        moving_.push_back({Seconds{start}, Seconds{end}});
      }
    }
    start += phase.duration.value();
  }
  if (moving_.empty()) return;
  loose_ = loose_spells(moving_, scenario.loosening, Random(scenario.seed, Stream::loosening));

  Random random(scenario.seed, Stream::cadence);
  const auto count = static_cast<std::size_t>(std::ceil((duration + 2.0 * margin) / step)) + 2;
  const double keep = elementary::exp(-step / wander_time);
  const double kick = std::sqrt(1.0 - keep * keep);
  double steps = 0.0;
  double strength = 0.0;
  double wander = 0.0;
  double cadence = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const double t = step * static_cast<double>(i) - margin;
    const WorkPhase& phase = timeline.phase(t);
    const bool inside = t >= 0.0 && t < duration && phase.cadence.value() > 0.0;
    wander = keep * wander + kick * random.gaussian();
    if (inside) cadence = phase.cadence.value();  // fading movement keeps its last cadence
    steps += cadence * std::max(1.0 + cadence_wander * wander, 0.5) * step;
    strength = follow(strength, inside ? phase.movement : 0.0, swell_time);
    steps_.push_back(steps);
    strength_.push_back(strength);
  }
}

double Movement::grid(const std::vector<double>& values, double t) const {
  const double x = std::clamp((t + margin) / step, 0.0, static_cast<double>(values.size() - 1));
  const auto i = std::min(static_cast<std::size_t>(x), values.size() - 2);
  return values[i] + (x - static_cast<double>(i)) * (values[i + 1] - values[i]);
}

std::array<double, 3> Movement::swing(double t) const {
  std::array<double, 3> g{};
  if (steps_.empty()) return g;
  const double strength = grid(strength_, t);
  if (strength < 1e-4) return g;
  const double steps = grid(steps_, t);
  for (const Line& line : lines) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      g[axis] += strength * line.g[axis] * elementary::sine_of_turns(line.multiple * steps + line.turns[axis]);
    }
  }
  return g;
}

std::array<double, 3> Movement::acceleration(double t) const {
  std::array<double, 3> g = swing(t);
  for (std::size_t axis = 0; axis < 3; ++axis) g[axis] += gravity[axis];
  return g;
}

double Movement::artefact(double t) const {
  if (steps_.empty()) return 0.0;
  const auto spell = std::upper_bound(loose_.begin(), loose_.end(), t,
                                      [](double time, const Span& span) { return time < span.end.value(); });
  if (spell == loose_.end() || t < spell->start.value()) return 0.0;
  const double edge = std::min(t - spell->start.value(), spell->end.value() - t);
  const double looseness = std::min(edge / loosening_time, 1.0);
  const std::array<double, 3> g = swing(t - lag_);
  double sum = 0.0;
  for (std::size_t axis = 0; axis < 3; ++axis) sum += weight[axis] * g[axis];
  return looseness * sum;
}

}  // namespace pulsewright::simulation
