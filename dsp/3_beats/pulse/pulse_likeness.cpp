#include "pulse_likeness.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// The stretch around a peak that is compared: the upstroke, the peak and the first half of the run-off.
constexpr Seconds before_peak{0.25};
constexpr Seconds after_peak{0.35};
constexpr std::size_t points = 25;
// The others that a pulse is compared with, to either side.
constexpr std::size_t shape_reach = 8;
// Beats to either side that likeness and irregularity are averaged over.
constexpr std::size_t mean_reach = 5;
constexpr std::size_t fewest_beats = 3;

using Shape = std::array<float, points>;

// Mean removed, length 1; all zero for a flat stretch.
Shape shape_at(std::span<const float> wave, Hertz rate, std::size_t at) {
  Shape shape{};
  const double first = static_cast<double>(at) - samples_in(before_peak, rate);
  const double step = samples_in(before_peak + after_peak, rate) / static_cast<double>(points - 1);
  const double last = static_cast<double>(wave.size() - 1);
  float mean = 0;
  for (std::size_t j = 0; j < points; ++j) {
    const double x = std::clamp(first + step * static_cast<double>(j), 0.0, last);
    shape[j] = wave[static_cast<std::size_t>(std::lround(x))];
    mean += shape[j];
  }
  mean /= static_cast<float>(points);
  float power = 0;
  for (float& v : shape) {
    v -= mean;
    power += v * v;
  }
  const float scale = power > 0 ? 1.0F / std::sqrt(power) : 0.0F;
  for (float& v : shape) v *= scale;
  return shape;
}

// Correlation of a shape with the sum of others.
float likeness_to(const Shape& shape, const Shape& sum) {
  float product = 0, power = 0;
  for (std::size_t j = 0; j < points; ++j) {
    product += shape[j] * sum[j];
    power += sum[j] * sum[j];
  }
  return power > 0 ? product / std::sqrt(power) : 0.0F;
}

// Mean of values[i] over the indices within `reach` of `centre`.
float mean_around(const std::vector<float>& values, std::size_t centre, std::size_t reach) {
  const std::size_t from = centre - std::min(centre, reach);
  const std::size_t to = std::min(values.size(), centre + reach + 1);
  float sum = 0;
  for (std::size_t i = from; i < to; ++i) sum += values[i];
  return sum / static_cast<float>(to - from);
}

}  // namespace

void measure_pulse_likeness(std::span<const float> wave, Hertz rate, std::vector<PulseCandidate>& candidates) {
  std::vector<std::size_t> beats;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    candidates[k].likeness = candidates[k].likeness_around = 0;
    candidates[k].irregularity = 1;
    if (candidates[k].beat) beats.push_back(k);
  }
  if (beats.size() < fewest_beats) return;

  std::vector<Shape> shapes;
  shapes.reserve(beats.size());
  for (const std::size_t k : beats) shapes.push_back(shape_at(wave, rate, candidates[k].at));
  // The sum of the shapes around beat number b, itself left out.
  const auto others = [&](std::size_t b, bool leave_out) {
    Shape sum{};
    const std::size_t from = b - std::min(b, shape_reach);
    for (std::size_t i = from; i < std::min(shapes.size(), b + shape_reach + 1); ++i) {
      if (leave_out && i == b) continue;
      for (std::size_t j = 0; j < points; ++j) sum[j] += shapes[i][j];
    }
    return sum;
  };
  std::vector<float> likeness(beats.size()), change(beats.size(), 0.0F);
  for (std::size_t b = 0; b < beats.size(); ++b) {
    likeness[b] = likeness_to(shapes[b], others(b, true));
    if (b == 0 || b + 1 == beats.size()) continue;
    const PulseCandidate &previous = candidates[beats[b - 1]], &here = candidates[beats[b]],
                         &next = candidates[beats[b + 1]];
    if (previous.stretch != next.stretch) continue;
    change[b] = std::min(1.0F, std::abs(elementary::log(static_cast<float>(next.at - here.at) /
                                                        static_cast<float>(here.at - previous.at))));
  }
  if (beats.size() > 2) {
    change.front() = change[1];
    change.back() = change[beats.size() - 2];
  }

  std::size_t b = 0;  // the beat at or before the candidate
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    while (b + 1 < beats.size() && beats[b + 1] <= k) ++b;
    PulseCandidate& c = candidates[k];
    c.likeness = c.beat ? likeness[b] : likeness_to(shape_at(wave, rate, c.at), others(b, false));
    c.likeness_around = mean_around(likeness, b, mean_reach);
    c.irregularity = mean_around(change, b, mean_reach);
  }
}

}  // namespace pulsewright::beats_stage
