#include "conversion.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

double Converter::step() const { return std::ldexp(high - low, -bits); }

namespace simulation {

long code_of(const Converter& converter, double value) {
  const double top = std::ldexp(1.0, converter.bits) - 1.0;
  const double code = std::floor((value - converter.low) / converter.step() + 0.5);
  return static_cast<long>(std::clamp(code, 0.0, top));
}

std::vector<float> convert(const std::vector<double>& values, const std::optional<Converter>& converter) {
  std::vector<float> stored;
  stored.reserve(values.size());
  for (const double value : values) {
    if (converter) {
      const double code = static_cast<double>(code_of(*converter, value));
      stored.push_back(static_cast<float>(converter->low + code * converter->step()));
    } else {
      stored.push_back(static_cast<float>(value));
    }
  }
  return stored;
}

}  // namespace simulation

}  // namespace pulsewright
