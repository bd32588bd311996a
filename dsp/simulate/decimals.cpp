#include "decimals.hpp"

#include <cmath>

namespace pulsewright::simulation {

namespace {
constexpr int most_decimals = 6;
}

int decimals_for_step(double step) {
  double unit = 1.0;
  for (int decimals = 0; decimals < most_decimals; ++decimals, unit /= 10.0) {
    if (unit <= step) return decimals;
  }
  return most_decimals;
}

int decimals_for_times(double rate_hz) {
  double scale = 1.0;
  for (int decimals = 0; decimals < most_decimals; ++decimals, scale *= 10.0) {
    const double step = scale / rate_hz;
    if (std::abs(step - std::floor(step + 0.5)) < 1e-9) return decimals;
  }
  return most_decimals;
}

}  // namespace pulsewright::simulation
