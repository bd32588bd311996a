#include "pulse_confidence.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Fitted by tests/accuracy/fit_pulse_confidence.py on the development recordings and on noise without a pulse.
struct Curve {
  double constant;
  std::array<double, pulse_feature_count> weights;
};
constexpr Curve chosen{-1.440, {0.019, 0.387, 0.777, -2.480}};
constexpr Curve not_chosen{-2.301, {-0.071, 1.237, -0.285, 1.481}};
constexpr double most = 0.999;
// Candidates decided earlier stand with more.
constexpr double most_log_odds = 8.0;
// Shapes that are more alike than this differ by the noise of the sensor only.
constexpr double least_unlikeness = 0.01;

}  // namespace

std::array<double, pulse_feature_count> pulse_features(const PulseCandidate& candidate) {
  const auto spread = [](float likeness) {
    return -elementary::log(std::max(1.0 - static_cast<double>(likeness), least_unlikeness));
  };
  return {std::min(candidate.log_odds, most_log_odds), spread(candidate.likeness), spread(candidate.likeness_around),
          static_cast<double>(candidate.irregularity)};
}

double pulse_confidence(const PulseCandidate& candidate) {
  const Curve& curve = candidate.beat ? chosen : not_chosen;
  const auto features = pulse_features(candidate);
  double x = curve.constant;
  for (std::size_t i = 0; i < features.size(); ++i) x += curve.weights[i] * features[i];
  return std::min(most, 1.0 / (1.0 + elementary::exp(-x)));
}

}  // namespace pulsewright::beats_stage
