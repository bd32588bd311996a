#include "simulated_class.hpp"

#include <cmath>
#include <random>

namespace accuracy {

using namespace pulsewright;

namespace {

/// Numbers that do not depend on the standard library's distributions.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : random_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) / 9007199254740992.0;
  }
  /// Rounded to whole fives, so that a phase does not end on a cell of two seconds by rule.
  double length(double low, double high) { return 5.0 * std::round(between(low, high) / 5.0); }

 private:
  std::mt19937_64 random_;
};

}  // namespace

SimulatedLesson simulated_lesson(std::uint64_t seed, double variability_ms) {
  Draw draw(seed);
  SimulatedLesson lesson;
  Scenario& s = lesson.scenario;
  s.name = "lesson";
  s.person = "member";
  s.age_years = 15;
  s.seed = seed;
  s.rate = Hertz{50};
  s.pulse = PulseSensor{};
  s.heart.resting = BeatsPerMinute{std::round(draw.between(58, 88))};
  s.heart.maximum = BeatsPerMinute{std::round(draw.between(188, 212))};
  s.heart.rise = Seconds{draw.between(18, 45)};
  s.heart.fall = Seconds{draw.between(35, 75)};
  s.heart.drift = BeatsPerMinute{draw.between(0, 10)};
  s.heart.resting_sdnn_ms = variability_ms;
  const auto phase = [&](PhaseKind kind, double seconds, double workload) {
    s.phases.push_back({.name = to_string(kind), .duration = Seconds{seconds}, .workload = workload});
    lesson.kinds.push_back(kind);
  };
  phase(PhaseKind::rest, draw.length(60, 150), 0.0);
  phase(PhaseKind::warm_up, draw.length(180, 420), draw.between(0.30, 0.42));
  const int bouts = 2 + static_cast<int>(draw.between(0, 3));
  for (int k = 0; k < bouts; ++k) {
    if (k > 0) phase(PhaseKind::pause, draw.length(60, 150), draw.between(0.15, 0.35));
    phase(PhaseKind::work, draw.length(120, 420), draw.between(0.65, 0.92));
  }
  if (draw.between(0, 3) >= 1) phase(PhaseKind::cool_down, draw.length(150, 360), draw.between(0.24, 0.35));
  phase(PhaseKind::rest, draw.length(150, 200), 0.0);
  return lesson;
}

}  // namespace accuracy
