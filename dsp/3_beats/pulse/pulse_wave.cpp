#include "pulse_wave.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Skewness of the slope beyond which a change of polarity is believed.
constexpr double clear_skewness = 0.3;
// Less than this is too little to stand by.
constexpr Seconds enough{8.0};
// Size is the mean absolute value over this many seconds to either side.
constexpr std::size_t reach_s = 5;

// Mean absolute value and mean absolute slope change of each second; their ratio tells a smooth wave from noise.
struct SecondSize {
  float size = 0;
  float roughness = 0;
};

std::vector<SecondSize> seconds_of(std::span<const float> values, Hertz rate, std::size_t seconds) {
  std::vector<SecondSize> result(seconds);
  for (std::size_t s = 0; s < seconds; ++s) {
    const auto first = static_cast<std::size_t>(static_cast<double>(s) * rate.value());
    const auto last = std::min(values.size(), static_cast<std::size_t>(static_cast<double>(s + 1) * rate.value()));
    double size = 0, rough = 0;
    std::size_t count = 0;
    for (std::size_t i = first; i < last; ++i) {
      if (std::isnan(values[i])) continue;
      size += std::abs(values[i]);
      if (i >= 2 && !std::isnan(values[i - 1]) && !std::isnan(values[i - 2]))
        rough += std::abs(values[i] - 2 * values[i - 1] + values[i - 2]);
      ++count;
    }
    if (count > 0)
      result[s] = {static_cast<float>(size / static_cast<double>(count)),
                   static_cast<float>(rough / static_cast<double>(count))};
  }
  return result;
}

// Median of a running window over seconds.
std::vector<float> smooth(const std::vector<SecondSize>& seconds, float SecondSize::*member) {
  std::vector<float> result(seconds.size());
  std::vector<float> window;
  for (std::size_t s = 0; s < seconds.size(); ++s) {
    window.clear();
    for (std::size_t k = s > reach_s ? s - reach_s : 0; k < std::min(seconds.size(), s + reach_s + 1); ++k)
      window.push_back(seconds[k].*member);
    const auto middle = window.begin() + static_cast<std::ptrdiff_t>(window.size() / 2);
    std::nth_element(window.begin(), middle, window.end());
    result[s] = *middle;
  }
  return result;
}

}  // namespace

void PulsePolarity::learn(std::span<const float> values, Hertz rate) {
  double second = 0, third = 0;
  std::size_t count = 0;
  for (std::size_t i = 1; i < values.size(); ++i) {
    const double slope = static_cast<double>(values[i]) - static_cast<double>(values[i - 1]);
    if (std::isnan(slope)) continue;
    second += slope * slope;
    third += slope * slope * slope;
    ++count;
  }
  if (count == 0 || !(second > 0)) return;
  const double n = static_cast<double>(count);
  const double skewness = (third / n) / elementary::pow(second / n, 1.5);
  if (!known_) {
    upright_ = skewness >= 0;
  } else if (upright_ ? skewness < -clear_skewness : skewness > clear_skewness) {
    upright_ = !upright_;
  }
  known_ = static_cast<double>(values.size()) >= samples_in(enough, rate);
}

std::vector<float> upright_wave(std::span<const std::span<const float>> signals, Hertz rate,
                                std::span<const PulsePolarity> polarities) {
  const std::size_t size = signals[0].size();
  std::vector<float> wave(size, 0.0F);
  if (signals.size() == 1) {
    const float sign = polarities[0].upright() ? 1.0F : -1.0F;
    for (std::size_t i = 0; i < size; ++i) wave[i] = std::isnan(signals[0][i]) ? 0.0F : sign * signals[0][i];
    return wave;
  }
  const auto seconds = static_cast<std::size_t>(std::ceil(static_cast<double>(size) / rate.value()));
  std::vector<std::vector<float>> scale;
  std::vector<float> total(seconds, 0.0F);
  for (std::size_t k = 0; k < signals.size(); ++k) {
    const std::vector<SecondSize> raw = seconds_of(signals[k], rate, seconds);
    const std::vector<float> usual = smooth(raw, &SecondSize::size);
    const std::vector<float> rough = smooth(raw, &SecondSize::roughness);
    scale.emplace_back(seconds, 0.0F);
    for (std::size_t s = 0; s < seconds; ++s) {
      if (!(usual[s] > 0)) continue;
      const float smoothness = usual[s] / (rough[s] + 1e-3F * usual[s]);
      total[s] += smoothness;
      scale[k][s] = smoothness / usual[s] * (polarities[k].upright() ? 1.0F : -1.0F);
    }
  }
  for (std::size_t k = 0; k < signals.size(); ++k) {
    for (std::size_t i = 0; i < size; ++i) {
      const std::size_t s = std::min(seconds - 1, static_cast<std::size_t>(static_cast<double>(i) / rate.value()));
      if (total[s] > 0 && !std::isnan(signals[k][i])) wave[i] += scale[k][s] / total[s] * signals[k][i];
    }
  }
  return wave;
}

}  // namespace pulsewright::beats_stage
