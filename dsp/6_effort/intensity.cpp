#include "pulsewright/intensity.hpp"

#include <fmt/format.h>

#include "pulsewright/error.hpp"

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

Intensity intensity_of_exertion(int exertion) {
  if (exertion < least_exertion || exertion > most_exertion)
    throw Error{ErrorCode::usage,
                fmt::format("perceived exertion of {}; it must be {} to {}", exertion, least_exertion, most_exertion)};
  constexpr std::array first_of_category{9, 12, 14, 18};  // of light, moderate, vigorous, near-maximal
  int category = 0;
  for (const int first : first_of_category)
    if (exertion >= first) ++category;
  return static_cast<Intensity>(category);
}

std::optional<std::size_t> category_of(const IntensityScheme& scheme, double fraction) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < scheme.categories.size(); ++i)
    if (fraction >= scheme.categories[i].from_fraction) found = i;
  return found;
}

}  // namespace pulsewright
