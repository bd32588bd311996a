#include "ecg_score.hpp"

#include <algorithm>
#include <cmath>

#include "ecg_shapes.hpp"

namespace pulsewright::beats_stage {
namespace {

// Logistic regressions on the development records of the MIT-BIH Arrhythmia Database (26 records, first signal), the third
// also with electrode motion, muscle noise and baseline wander added; made by tests/accuracy/fit_ecg_score.py. Templates and
// the first guess changed a little afterwards: run again, it prints other weights, the third by up to 0.4. One weight a
// feature, in the order of `ecg_features`, then the constant.
constexpr std::array<double, first_features + 1> first_weights = {3.126,  -1.468, 1.055,  -1.994, -3.982, -12.459,
                                                                  -0.806, -0.067, -0.008, 3.581,  -5.340};
constexpr std::array<double, context_features + 1> context_weights = {
    2.434, 0.004, 1.454, -0.324, -2.118, -7.889, -0.781, -0.157, 0.239, 2.026, 2.452, 1.466, -0.924, -6.479};
constexpr std::array<double, all_features + 1> shape_weights = {
    1.706,  -0.560, 0.321,  -0.192, -2.190, -2.567, -0.316, 0.247,  -0.163, -0.193, 2.881,
    1.642,  -1.298, 0.092,  2.018,  0.447,  0.928,  3.183,  3.178,  -3.238, -0.242, -1.163,
    -0.642, 2.353,  -0.191, -0.069, 1.556,  0.242,  -0.199, -1.996, -1.929, -0.583, 0.086,
    -1.350, 0.962,  -1.693, 0.115,  -2.443, 0.383,  0.396,  1.696,  1.768,  1.462,  -9.041};

// Backgrounds below this logarithm over the beats are quiet; what lies above adds up to at most `loudest` of doubt.
constexpr float quiet = -3.0F;
constexpr float loudest = 3.0F;

std::array<double, plain_features> plain_features_of(const EcgCandidate& c) {
  const auto within = [](float value, double low, double high) {
    return std::clamp(static_cast<double>(value), low, high);
  };
  const double to_level = within(c.to_level, -4, 1);
  const double before = within(c.to_before, -3, 3);
  const double after = within(c.to_after, -3, 3);
  const double likeness = c.likeness;
  const double usual_after = within(c.over_usual_after, -2.5, 2.5);
  const double usual_before = within(c.over_usual_before, -2.5, 2.5);
  const auto fourth_power = [](double v) { return v * v * v * v; };
  const double near_shape = c.near_shape, whole_shape = c.whole_shape, whole_energy = c.whole_energy;
  const double step = within(c.step_over, 0, 1.5F);
  return {to_level,
          within(c.breadth_to_level, -4, 1),
          likeness,
          within(c.to_background, -5, 0),
          std::max(before, 0.0),
          std::max(after, 0.0),
          std::min(before, 0.0),
          std::min(after, 0.0),
          std::min(to_level, 0.0) * std::min(to_level, 0.0),
          fourth_power(likeness),
          usual_after,
          usual_before,
          std::min(usual_after, usual_before),
          near_shape,
          fourth_power(near_shape),
          whole_shape,
          fourth_power(whole_shape),
          whole_energy,
          fourth_power(whole_energy),
          step,
          step * step};
}

template <std::size_t weights>
double weighted(const EcgCandidate& candidate, const std::array<double, weights>& weight) {
  const auto features = [&] {
    if constexpr (weights - 1 <= plain_features) {
      return plain_features_of(candidate);
    } else {
      return ecg_features(candidate);
    }
  }();
  double sum = weight[weights - 1];
  for (std::size_t i = 0; i + 1 < weights; ++i) sum += weight[i] * features[i];
  return sum;
}

}  // namespace

std::array<double, all_features> ecg_features(const EcgCandidate& c) {
  const std::array<double, plain_features> plain = plain_features_of(c);
  const double doubt = std::clamp(static_cast<double>(c.doubt - quiet), 0.0, static_cast<double>(loudest));
  // Where the surroundings are doubtful, everything weighs differently.
  std::array<double, all_features> features{};
  for (std::size_t i = 0; i < plain_features; ++i) {
    features[i] = plain[i];
    features[plain_features + i] = doubt * plain[i];
  }
  features.back() = doubt;
  return features;
}

double first_log_odds_at_best(const EcgCandidate& candidate) {
  EcgCandidate alike = candidate;
  alike.likeness = 1.0F;
  return weighted(alike, first_weights);
}

void score_at_first_look(std::vector<EcgCandidate>& candidates) {
  for (EcgCandidate& c : candidates) c.log_odds = weighted(c, first_weights);
}

void score_in_context(std::vector<EcgCandidate>& candidates) {
  for (EcgCandidate& c : candidates) c.log_odds = weighted(c, context_weights);
}

void score_by_shape(std::vector<EcgCandidate>& candidates) {
  for (EcgCandidate& c : candidates) {
    if (c.log_odds >= out_of_question) c.log_odds = weighted(c, shape_weights);
  }
}

}  // namespace pulsewright::beats_stage
