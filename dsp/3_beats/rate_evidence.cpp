#include "rate_evidence.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Set on the odd treadmill recordings and the development recordings of the wrist: a random search of some 250 trials around hand-set values, then rounded. The error
// is flat around them.
/// How strongly motion weighs down the pulse spectrum, how far a strong line withstands it, and the same for the spectrum after the filter.
constexpr float motion_weight = 3.0F;
constexpr float line_strength = 5.0F;
constexpr float motion_weight_after_filter = 0.3F;
/// Share of the power at twice the rate that counts for the rate.
constexpr float harmonic_share = 0.4F;
/// Share of the spectrum that was only weighted, beside the one that was filtered.
constexpr float weighted_share = 0.15F;
constexpr float most_motion = 1.5F;

/// The motion filter is fitted over this much.
constexpr Seconds fit_length{24.0};
/// Bins of the padded spectrum are at most this far apart: a tenth of the main lobe.
constexpr double widest_bin_bpm = 1.6;
/// A window with more missing samples than this share is not read.
constexpr double most_missing = 0.5;
constexpr float least_power = 1e-20F;

std::size_t padded_length(Hertz rate) {
  return std::bit_ceil(static_cast<std::size_t>(std::ceil(60.0 * rate.value() / widest_bin_bpm)));
}

std::size_t window_length(Hertz rate) { return static_cast<std::size_t>(std::lround(samples_in(track_window, rate))); }

float largest(const RateWeights& weights) { return *std::max_element(weights.begin(), weights.end()); }

void scale(RateWeights& weights, float factor) {
  for (float& w : weights) w *= factor;
}

std::vector<std::span<const float>> views(const std::vector<std::vector<float>>& signals) {
  return {signals.begin(), signals.end()};
}

std::vector<std::span<const float>> motion_of(const RateSignals& signals) {
  std::vector<std::span<const float>> all = views(signals.acceleration);
  all.insert(all.end(), signals.rotation.begin(), signals.rotation.end());
  return all;
}

}  // namespace

SpectralView::SpectralView(const RateSignals& signals, bool causal)
    : signals_(signals),
      causal_(causal),
      window_(window_length(signals.rate)),
      pulse_(views(signals.pulse)),
      removal_(motion_of(signals), signals.rate),
      spectrum_(window_, padded_length(signals.rate)),
      bins_per_bpm_(1.0 / (60.0 * spectrum_.bin_width(signals.rate).value())),
      stretch_(window_) {}

void SpectralView::power_on_grid(std::span<const float> values, RateWeights& once, RateWeights& twice) {
  const std::span<const double> power = spectrum_.of(values);
  const auto at = [&](double bpm) {
    const double bin = bpm * bins_per_bpm_;
    const auto low = static_cast<std::size_t>(bin);
    if (low + 1 >= power.size()) return 0.0F;
    const double share = bin - static_cast<double>(low);
    return static_cast<float>((1.0 - share) * power[low] + share * power[low + 1]);
  };
  for (std::size_t i = 0; i < grid_size; ++i) {
    once[i] += at(grid_bpm(i));
    twice[i] += at(2.0 * grid_bpm(i));
  }
}

bool SpectralView::motion_power(std::size_t first, RateWeights& once, RateWeights& twice) {
  bool any = false;
  for (const auto* group : {&signals_.acceleration, &signals_.rotation}) {
    RateWeights group_once{}, group_twice{};
    for (const std::vector<float>& values : *group)
      power_on_grid(std::span{values}.subspan(first, window_), group_once, group_twice);
    const float most = largest(group_once);
    if (!(most > least_power)) continue;
    any = true;
    // The amplitude, not the power, so that weaker harmonics of the motion count too.
    const auto level = [most](float p) { return std::min(std::sqrt(p / most), most_motion); };
    for (std::size_t i = 0; i < grid_size; ++i) {
      once[i] = std::max(once[i], level(group_once[i]));
      twice[i] = std::max(twice[i], level(group_twice[i]));
    }
  }
  return any;
}

RateEvidence SpectralView::at(std::size_t first) {
  RateEvidence evidence;
  evidence.weights.fill(1.0F);
  const std::size_t size = signals_.size();
  if (first + window_ > size) return evidence;

  RateWeights motion{}, motion_twice{};
  const bool moving = motion_power(first, motion, motion_twice);
  if (moving) {
    const auto fit = static_cast<std::size_t>(std::lround(samples_in(fit_length, signals_.rate)));
    const std::size_t after = causal_ ? first + window_ : std::min(size, first + (window_ + fit) / 2);
    removal_.fit(pulse_, causal_ ? after - std::min(after, fit) : first - std::min(first, (fit - window_) / 2), after);
    const auto strongest = std::max_element(motion.begin(), motion.end()) - motion.begin();
    evidence.cadence_bpm = grid_bpm(static_cast<std::size_t>(strongest));
  }

  RateWeights weighted{}, filtered{};
  for (std::size_t k = 0; k < pulse_.size(); ++k) {
    std::size_t missing = 0;
    for (std::size_t i = 0; i < window_; ++i) {
      const float v = pulse_[k][first + i];
      missing += std::isnan(v) ? 1 : 0;
      stretch_[i] = std::isnan(v) ? 0.0F : v;
    }
    if (static_cast<double>(missing) > most_missing * static_cast<double>(window_)) continue;
    RateWeights once{}, twice{};
    power_on_grid(stretch_, once, twice);
    const float most = largest(once);
    if (!(most > least_power)) continue;
    evidence.readable = true;
    RateWeights sum{};
    for (std::size_t i = 0; i < grid_size; ++i) {
      const float p = once[i] / most, p2 = twice[i] / most;
      const float strong = 1.0F + line_strength * p, strong2 = 1.0F + line_strength * p2;
      sum[i] = moving ? p * strong / (strong + motion_weight * motion[i]) +
                            harmonic_share * p2 * strong2 / (strong2 + motion_weight * motion_twice[i])
                      : p + harmonic_share * p2;
    }
    scale(sum, 1.0F / largest(sum));
    for (std::size_t i = 0; i < grid_size; ++i) weighted[i] += sum[i];
    if (!moving) continue;

    removal_.remove(pulse_[k], k, first, stretch_);
    once.fill(0.0F);
    twice.fill(0.0F);
    power_on_grid(stretch_, once, twice);
    for (std::size_t i = 0; i < grid_size; ++i) {
      sum[i] = once[i] / (1.0F + motion_weight_after_filter * motion[i]) +
               harmonic_share * twice[i] / (1.0F + motion_weight_after_filter * motion_twice[i]);
    }
    const float left = largest(sum);
    if (!(left > least_power)) continue;
    for (std::size_t i = 0; i < grid_size; ++i) filtered[i] += sum[i] / left;
  }
  if (!evidence.readable) return evidence;

  scale(weighted, 1.0F / largest(weighted));
  const float left = largest(filtered);
  if (left > 0.0F) {
    for (std::size_t i = 0; i < grid_size; ++i)
      weighted[i] = weighted_share * weighted[i] + (1.0F - weighted_share) * filtered[i] / left;
    scale(weighted, 1.0F / largest(weighted));
  }
  evidence.weights = weighted;
  return evidence;
}

}  // namespace pulsewright::beats_stage
