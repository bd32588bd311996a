#include "pulsewright/effort.hpp"

namespace pulsewright {

namespace {

Intensity category(double fraction, const std::array<double, intensity_count - 1>& bounds) {
  int category = 0;
  for (const double bound : bounds)
    if (fraction >= bound) ++category;
  return static_cast<Intensity>(category);
}

}  // namespace

const char* to_string(Intensity intensity) {
  switch (intensity) {
    case Intensity::very_light: return "very_light";
    case Intensity::light: return "light";
    case Intensity::moderate: return "moderate";
    case Intensity::vigorous: return "vigorous";
    case Intensity::near_maximal: break;
  }
  return "near_maximal";
}

Intensity intensity_of_reserve(double fraction) { return category(fraction, reserve_bounds); }

Intensity intensity_of_maximum(double fraction) { return category(fraction, maximum_bounds); }

}  // namespace pulsewright
