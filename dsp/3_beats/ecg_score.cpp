#include "ecg_score.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Logistic regression on the development records of the MIT-BIH Arrhythmia Database (26 records, first signal); made by
// tests/accuracy/fit_ecg_score.py. One weight a feature, in the order of `ecg_features`, then the constant.
constexpr std::array<double, first_features + 1> first_weights = {3.126,  -1.468, 1.055,  -1.994, -3.982, -12.459,
                                                                  -0.806, -0.067, -0.008, 3.581,  -5.340};
constexpr std::array<double, all_features + 1> context_weights = {2.434,  0.004, 1.454, -0.324, -2.118, -7.889, -0.781,
                                                                  -0.157, 0.239, 2.026, 2.452,  1.466,  -0.924, -6.479};

template <std::size_t weights>
void score(std::vector<EcgCandidate>& candidates, const std::array<double, weights>& weight) {
  for (EcgCandidate& c : candidates) {
    const auto features = ecg_features(c);
    double sum = weight[weights - 1];
    for (std::size_t i = 0; i + 1 < weights; ++i) sum += weight[i] * features[i];
    c.log_odds = sum;
  }
}

}  // namespace

std::array<double, all_features> ecg_features(const EcgCandidate& c) {
  const auto within = [](float value, double low, double high) {
    return std::clamp(static_cast<double>(value), low, high);
  };
  const double to_level = within(c.to_level, -4, 1);
  const double before = within(c.to_before, -3, 3);
  const double after = within(c.to_after, -3, 3);
  const double likeness = c.likeness;
  const double usual_after = within(c.over_usual_after, -2.5, 2.5);
  const double usual_before = within(c.over_usual_before, -2.5, 2.5);
  return {to_level,
          within(c.breadth_to_level, -4, 1),
          likeness,
          within(c.to_background, -5, 0),
          std::max(before, 0.0),
          std::max(after, 0.0),
          std::min(before, 0.0),
          std::min(after, 0.0),
          std::min(to_level, 0.0) * std::min(to_level, 0.0),
          likeness * likeness * likeness * likeness,
          usual_after,
          usual_before,
          std::min(usual_after, usual_before)};
}

void score_at_first_look(std::vector<EcgCandidate>& candidates) { score(candidates, first_weights); }
void score_in_context(std::vector<EcgCandidate>& candidates) { score(candidates, context_weights); }

}  // namespace pulsewright::beats_stage
