#include "heart_steps.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

/// Wider steps than this do not happen: their weight beside no step would be 1 in 100,000.
constexpr double widest_bpm = 24.0;

std::vector<float> weights_of(const StepShape& shape, double spacing_bpm) {
  std::vector<float> weights(static_cast<std::size_t>(widest_bpm / spacing_bpm) + 1);
  for (std::size_t away = 0; away < weights.size(); ++away) {
    const double step = spacing_bpm * static_cast<double>(away);
    const double z = step / shape.usual_bpm;
    weights[away] = static_cast<float>((1.0 - shape.wide_share) * elementary::exp(-0.5 * z * z) / shape.usual_bpm +
                                       shape.wide_share * elementary::exp(-step / shape.wide_bpm) / shape.wide_bpm);
  }
  return weights;
}

}  // namespace

HeartSteps::HeartSteps(const StepShape& shape, std::size_t places, std::size_t padded, double spacing_bpm)
    : kernel_(weights_of(shape, spacing_bpm)), leaving_(padded) {
  std::fill_n(leaving_.begin(), places, 1.0F);
  std::vector<float> sums = leaving_;
  kernel_.over(sums, sums);
  for (std::size_t i = 0; i < places; ++i) leaving_[i] = 1.0F / sums[i];
}

void HeartSteps::forward(std::span<const float> from, std::span<float> to) const {
  for (std::size_t i = 0; i < from.size(); ++i) to[i] = from[i] * leaving_[i];
  kernel_.over(to, to);
}

void HeartSteps::back(std::span<const float> from, std::span<float> to) const {
  kernel_.over(from, to);
  for (std::size_t i = 0; i < to.size(); ++i) to[i] *= leaving_[i];
}

}  // namespace pulsewright::beats_stage
