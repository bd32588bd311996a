#include "ecg_score.hpp"

#include <algorithm>

#include "ecg_shapes.hpp"
#include "ecg_weights.hpp"

namespace pulsewright::beats_stage {
namespace {

// The names of the features as they are computed below; those of `ecg_weights.hpp` have to be the same.
constexpr std::array<std::string_view, plain_features> plain_names{"strength to level",
                                                                   "breadth to level",
                                                                   "likeness",
                                                                   "background to strength",
                                                                   "stronger one before",
                                                                   "stronger one after",
                                                                   "weaker one before",
                                                                   "weaker one after",
                                                                   "strength below level squared",
                                                                   "likeness to the fourth",
                                                                   "over the usual after",
                                                                   "over the usual before",
                                                                   "the smaller of the last two",
                                                                   "near shape",
                                                                   "near shape to the fourth",
                                                                   "whole shape",
                                                                   "whole shape to the fourth",
                                                                   "whole energy",
                                                                   "whole energy to the fourth",
                                                                   "step",
                                                                   "step squared"};
constexpr std::array<std::string_view, noise_features> noise_names{"match",
                                                                   "match squared",
                                                                   "match alone",
                                                                   "match alone to the fourth",
                                                                   "match smaller than usual",
                                                                   "match larger than usual",
                                                                   "match beside",
                                                                   "match beside over match"};

constexpr bool is_times_noise_level(std::string_view name, std::string_view plain) {
  constexpr std::string_view times = "noise level x ";
  return name.substr(0, times.size()) == times && name.substr(times.size()) == plain;
}
constexpr bool is_feature(std::size_t place, std::string_view name) {
  if (place < plain_features) return name == plain_names[place];
  if (place < 2 * plain_features) return is_times_noise_level(name, plain_names[place - plain_features]);
  if (place == 2 * plain_features) return name == "noise level";
  place -= shape_features;
  return place < noise_features ? name == noise_names[place]
                                : is_times_noise_level(name, noise_names[place - noise_features]);
}
template <std::size_t size>
constexpr bool in_order(const std::array<FeatureWeight, size>& weights) {
  for (std::size_t i = 0; i + 1 < size; ++i)
    if (!is_feature(i, weights[i].feature)) return false;
  return weights[size - 1].feature == "constant";
}
static_assert(first_weights.size() == first_features + 1 && in_order(first_weights));
static_assert(context_weights.size() == context_features + 1 && in_order(context_weights));
static_assert(shape_weights.size() == shape_features + 1 && in_order(shape_weights));
static_assert(noise_weights.size() == all_features + 1 && in_order(noise_weights));

// Backgrounds below this logarithm over the beats are quiet; what lies above adds up to at most `loudest`.
constexpr float quiet = -3.0F;
constexpr float loudest = 3.0F;

double within(float value, double low, double high) { return std::clamp(static_cast<double>(value), low, high); }
double fourth_power(double v) { return v * v * v * v; }

std::array<double, plain_features> plain_features_of(const EcgCandidate& c) {
  const double to_level = within(c.context.to_level.strength, -4, 1);
  const double before = within(c.context.neighbours.before, -3, 3);
  const double after = within(c.context.neighbours.after, -3, 3);
  const double likeness = c.context.likeness;
  const double usual_after = within(c.context.over_usual.after, -2.5, 2.5);
  const double usual_before = within(c.context.over_usual.before, -2.5, 2.5);
  const double near_shape = c.shape.near, whole_shape = c.shape.whole, whole_energy = c.shape.energy;
  const double step = within(c.shape.step_over, 0, 1.5F);
  return {to_level,
          within(c.context.to_level.breadth, -4, 1),
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

template <std::size_t size>
double weighted(const EcgCandidate& candidate, const std::array<FeatureWeight, size>& weights) {
  const auto features = [&] {
    if constexpr (size - 1 <= plain_features) {
      return plain_features_of(candidate);
    } else {
      return ecg_features(candidate);
    }
  }();
  double sum = weights[size - 1].weight;
  for (std::size_t i = 0; i + 1 < size; ++i) sum += weights[i].weight * features[i];
  return sum;
}

}  // namespace

std::array<double, all_features> ecg_features(const EcgCandidate& c) {
  const std::array<double, plain_features> plain = plain_features_of(c);
  const double noise_level = within(c.context.noise_level - quiet, 0, loudest);
  // Where there is noise, everything weighs differently.
  std::array<double, all_features> features{};
  for (std::size_t i = 0; i < plain_features; ++i) {
    features[i] = plain[i];
    features[plain_features + i] = noise_level * plain[i];
  }
  features[2 * plain_features] = noise_level;
  if (c.noise.share <= 0) return features;
  const double match = within(c.noise.match, 0, 8), alone = within(c.noise.alone, 0, 1);
  const double size = within(c.noise.size, -3, 1), beside = within(c.noise.beside, 0, 8);
  const std::array<double, noise_features> in_noise = {
      match,  match * match / 8.0,          alone, fourth_power(alone), std::min(size, 0.0), std::max(size, 0.0),
      beside, std::max(beside - match, 0.0)};
  for (std::size_t i = 0; i < noise_features; ++i) {
    features[shape_features + i] = in_noise[i];
    features[shape_features + noise_features + i] = noise_level * in_noise[i];
  }
  return features;
}

std::array<std::string_view, all_features> ecg_feature_names() {
  std::array<std::string_view, all_features> names;
  for (std::size_t i = 0; i < all_features; ++i) names[i] = noise_weights[i].feature;
  return names;
}

double first_log_odds(const EcgCandidate& candidate) { return weighted(candidate, first_weights); }

double first_log_odds_at_best(const EcgCandidate& candidate) {
  EcgCandidate alike = candidate;
  alike.context.likeness = 1.0F;
  return first_log_odds(alike);
}

double context_log_odds(const EcgCandidate& candidate) { return weighted(candidate, context_weights); }

double shape_log_odds(const EcgCandidate& candidate) {
  if (candidate.log_odds < out_of_question) return candidate.log_odds;
  const auto in_noise = static_cast<double>(candidate.noise.share);
  double log_odds = in_noise < 1 ? (1.0 - in_noise) * weighted(candidate, shape_weights) : 0.0;
  if (in_noise > 0) log_odds += in_noise * weighted(candidate, noise_weights);
  return log_odds;
}

}  // namespace pulsewright::beats_stage
