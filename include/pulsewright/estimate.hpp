/// Vocabulary of stage 7: a number and how far it may be off.
#pragma once

#include <optional>

namespace pulsewright {

/// A value and its 95 % interval (another level only where a comment says so).
struct Estimate {
  double value = 0;
  std::optional<double> low, high;
};

}  // namespace pulsewright
