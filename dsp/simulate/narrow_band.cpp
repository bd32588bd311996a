#include "narrow_band.hpp"

#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::simulation {

namespace {
constexpr int line_count = 24;
constexpr double reach_sd = 3.0;
}  // namespace

NarrowBand::NarrowBand(double sd, Random random) {
  const double cell = 2.0 * reach_sd / static_cast<double>(line_count);
  double power = 0.0;
  for (int k = 0; k < line_count; ++k) {
    const double x = -reach_sd + cell * (static_cast<double>(k) + random.uniform());
    const double amplitude = std::sqrt(elementary::exp(-0.5 * x * x));  // power follows the Gaussian
    lines_.push_back({x * sd, random.uniform(), amplitude});
    power += 0.5 * amplitude * amplitude;
  }
  const double scale = 1.0 / std::sqrt(power);
  for (Line& line : lines_) line.amplitude *= scale;
}

double NarrowBand::at(double t, double turns) const {
  double sum = 0.0;
  for (const Line& line : lines_) {
    sum += line.amplitude * elementary::sine_of_turns(turns + line.offset_hz * t + line.phase_turns);
  }
  return sum;
}

}  // namespace pulsewright::simulation
