#include "ecg_confidence.hpp"

#include <cmath>

namespace pulsewright {
namespace {

// What being chosen by the best path adds to the log-odds, and how fast they count beyond; set on the development records.
constexpr double chosen_shift = 1.0;
constexpr double not_chosen_shift = -1.5;
constexpr double slope = 0.8;
// Marks and detector are never surer than this.
constexpr double most = 0.9999;

}  // namespace

double ecg_confidence(double log_odds, bool chosen) {
  const double x = slope * log_odds + (chosen ? chosen_shift : not_chosen_shift);
  const double probability = 1.0 / (1.0 + std::exp(-x));
  return probability < most ? probability : most;
}

}  // namespace pulsewright
