#include "ecg_score.hpp"

#include <algorithm>
#include <cmath>

#include "ecg_shapes.hpp"

namespace pulsewright::beats_stage {
namespace {

// Logistic regressions on the development records of the MIT-BIH Arrhythmia Database (26 records, first signal), the third
// also with electrode motion, muscle noise and baseline wander added; made by tests/accuracy/fit_ecg_score.py. Templates and
// the first guess changed a little afterwards: run again, it prints other weights. One weight a
// feature, in the order of `ecg_features`, then the constant. The last is for candidates in strong noise; which these are, and what is measured of them, depends on the weights themselves, so that the script does not
// return just these.
constexpr std::array<double, first_features + 1> first_weights = {3.126,  -1.468, 1.055,  -1.994, -3.982, -12.459,
                                                                  -0.806, -0.067, -0.008, 3.581,  -5.340};
constexpr std::array<double, context_features + 1> context_weights = {
    2.434, 0.004, 1.454, -0.324, -2.118, -7.889, -0.781, -0.157, 0.239, 2.026, 2.452, 1.466, -0.924, -6.479};
constexpr std::array<double, shape_features + 1> shape_weights = {
    1.706,  -0.560, 0.321,  -0.192, -2.190, -2.567, -0.316, 0.247,  -0.163, -0.193, 2.881,
    1.642,  -1.298, 0.092,  2.018,  0.447,  0.928,  3.183,  3.178,  -3.238, -0.242, -1.163,
    -0.642, 2.353,  -0.191, -0.069, 1.556,  0.242,  -0.199, -1.996, -1.929, -0.583, 0.086,
    -1.350, 0.962,  -1.693, 0.115,  -2.443, 0.383,  0.396,  1.696,  1.768,  1.462,  -9.041};
constexpr std::array<double, all_features + 1> noise_weights = {
    3.627,  -0.570, -1.161, 0.058,  -1.169, 0.048,  0.085,  -0.127, 1.129,  2.025,  2.921, 2.057,
    -2.423, -0.198, 2.870,  0.148,  -0.335, 3.566,  4.591,  -2.106, 1.428,  -3.433, 0.721, 2.492,
    0.271,  -0.187, 0.145,  -0.112, 0.184,  -1.803, -2.900, -1.483, -0.630, 0.335,  1.774, -2.683,
    1.020,  -1.939, -1.272, -1.928, 0.338,  0.393,  0.244,  -1.732, 1.807,  -1.411, 4.578, 0.146,
    -3.485, 0.311,  -1.222, 1.961,  -1.609, -1.226, 0.043,  0.989,  -0.511, -0.226, 0.317, -4.073};

// Backgrounds below this logarithm over the beats are quiet; what lies above adds up to at most `loudest` of noise_level.
constexpr float quiet = -3.0F;
constexpr float loudest = 3.0F;

double within(float value, double low, double high) { return std::clamp(static_cast<double>(value), low, high); }
double fourth_power(double v) { return v * v * v * v; }

std::array<double, plain_features> plain_features_of(const EcgCandidate& c) {
  const double to_level = within(c.to_level, -4, 1);
  const double before = within(c.to_before, -3, 3);
  const double after = within(c.to_after, -3, 3);
  const double likeness = c.likeness;
  const double usual_after = within(c.over_usual_after, -2.5, 2.5);
  const double usual_before = within(c.over_usual_before, -2.5, 2.5);
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
  const double noise_level = within(c.noise_level - quiet, 0, loudest);
  // Where the surroundings are doubtful, everything weighs differently.
  std::array<double, all_features> features{};
  for (std::size_t i = 0; i < plain_features; ++i) {
    features[i] = plain[i];
    features[plain_features + i] = noise_level * plain[i];
  }
  features[2 * plain_features] = noise_level;
  if (c.in_noise <= 0) return features;
  const double match = within(c.match, 0, 8), alone = within(c.match_alone, 0, 1);
  const double size = within(c.match_size, -3, 1), beside = within(c.match_beside, 0, 8);
  const std::array<double, noise_features> in_noise = {
      match,  match * match / 8.0,          alone, fourth_power(alone), std::min(size, 0.0), std::max(size, 0.0),
      beside, std::max(beside - match, 0.0)};
  for (std::size_t i = 0; i < noise_features; ++i) {
    features[shape_features + i] = in_noise[i];
    features[shape_features + noise_features + i] = noise_level * in_noise[i];
  }
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
    if (c.log_odds < out_of_question) continue;
    const auto in_noise = static_cast<double>(c.in_noise);
    c.log_odds = in_noise < 1 ? (1.0 - in_noise) * weighted(c, shape_weights) : 0.0;
    if (in_noise > 0) c.log_odds += in_noise * weighted(c, noise_weights);
  }
}

}  // namespace pulsewright::beats_stage
