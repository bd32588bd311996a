#include "ecg_confidence.hpp"

#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Logistic calibration of the log-odds against the marks, apart for candidates that the best path chose and did not choose; set on the
// development records of the MIT-BIH Arrhythmia Database. It lies between what the present log-odds ask for there (chosen: 0.81 and 2.40) and there together with the noise stress
// records (0.90 and 0.22).
constexpr double chosen_slope = 0.88;
constexpr double chosen_shift = 1.13;
constexpr double not_chosen_slope = 0.66;
constexpr double not_chosen_shift = -1.64;
// The calibration holds up to about this; marks themselves are not surer.
constexpr double most = 0.9998;

}  // namespace

double ecg_confidence(double log_odds, bool chosen) {
  const double x = chosen ? chosen_slope * log_odds + chosen_shift : not_chosen_slope * log_odds + not_chosen_shift;
  const double probability = 1.0 / (1.0 + elementary::exp(-x));
  return probability < most ? probability : most;
}

}  // namespace pulsewright::beats_stage
