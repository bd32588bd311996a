#include "rate_evidence.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

#include "elementary/elementary.hpp"

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

/// While somebody moves in a rhythm the heart is not slow: what looks like one is the motion. Doubt in rates below the first, as the SD of the log of the rate, and as far as the
/// motion has power there; none of it while the strongest line of the motion has less than one share of its power, all of it from another one on.
constexpr double slow_bpm = 75.0;
constexpr double slow_sd_of_log = 0.1;
constexpr float least_rhythm = 0.3F, clear_rhythm = 0.6F;
/// Power at this distance belongs to a line: about the half width of the window's main lobe.
constexpr double line_half_width_bpm = 8.0;

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

/// Adds weights of which the best one becomes `share`.
void add_scaled(const RateWeights& weights, float share, RateWeights& sum) {
  const float most = largest(weights);
  if (!(most > least_power)) return;
  for (std::size_t i = 0; i < grid_size; ++i) sum[i] += share * weights[i] / most;
}

/// Share of the power that lies in the strongest line.
float share_of_line(const RateWeights& power) {
  const auto line = std::max_element(power.begin(), power.end());
  const auto reach = static_cast<std::ptrdiff_t>(line_half_width_bpm / grid_step_bpm);
  const auto from = line - std::min(reach, line - power.begin()), to = line + std::min(reach + 1, power.end() - line);
  return std::accumulate(from, to, 0.0F) / std::accumulate(power.begin(), power.end(), 0.0F);
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
      stretch_(window_) {
  for (std::size_t i = 0; i < grid_size; ++i) {
    const double z = std::max(0.0, elementary::log(slow_bpm / grid_bpm(i))) / slow_sd_of_log;
    slow_doubt_[i] = static_cast<float>(elementary::exp(-0.5 * z * z));
  }
}

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

SpectralView::Motion SpectralView::motion_at(std::size_t first) {
  Motion motion;
  for (const auto* group : {&signals_.acceleration, &signals_.rotation}) {
    RateWeights once{}, twice{};
    for (const std::vector<float>& values : *group)
      power_on_grid(std::span{values}.subspan(first, window_), once, twice);
    const float most = largest(once);
    if (!(most > least_power)) continue;
    motion.any = true;
    motion.rhythm = std::max(motion.rhythm, share_of_line(once));
    // The amplitude, not the power, so that weaker harmonics of the motion count too.
    const auto level = [most](float p) { return std::min(std::sqrt(p / most), most_motion); };
    for (std::size_t i = 0; i < grid_size; ++i) {
      motion.once[i] = std::max(motion.once[i], level(once[i]));
      motion.twice[i] = std::max(motion.twice[i], level(twice[i]));
    }
  }
  return motion;
}

void SpectralView::fit_removal(std::size_t first) {
  const auto fit = static_cast<std::size_t>(std::lround(samples_in(fit_length, signals_.rate)));
  const std::size_t last = causal_ ? first + window_ : std::min(signals_.size(), first + (window_ + fit) / 2);
  removal_.fit(pulse_, causal_ ? last - std::min(last, fit) : first - std::min(first, (fit - window_) / 2), last);
}

bool SpectralView::read_pulse(std::size_t channel, std::size_t first) {
  std::size_t missing = 0;
  for (std::size_t i = 0; i < window_; ++i) {
    const float v = pulse_[channel][first + i];
    missing += std::isnan(v) ? 1 : 0;
    stretch_[i] = std::isnan(v) ? 0.0F : v;
  }
  return static_cast<double>(missing) <= most_missing * static_cast<double>(window_);
}

bool SpectralView::add_weighted(const Motion& motion, RateWeights& sum) {
  RateWeights once{}, twice{};
  power_on_grid(stretch_, once, twice);
  const float most = largest(once);
  if (!(most > least_power)) return false;
  RateWeights weights{};
  for (std::size_t i = 0; i < grid_size; ++i) {
    const float p = once[i] / most, p2 = twice[i] / most;
    const float strong = 1.0F + line_strength * p, strong2 = 1.0F + line_strength * p2;
    weights[i] = p * strong / (strong + motion_weight * motion.once[i]) +
                 harmonic_share * p2 * strong2 / (strong2 + motion_weight * motion.twice[i]);
  }
  add_scaled(weights, 1.0F, sum);
  return true;
}

void SpectralView::add_filtered(const Motion& motion, RateWeights& sum) {
  RateWeights once{}, twice{};
  power_on_grid(stretch_, once, twice);
  for (std::size_t i = 0; i < grid_size; ++i) {
    once[i] = once[i] / (1.0F + motion_weight_after_filter * motion.once[i]) +
              harmonic_share * twice[i] / (1.0F + motion_weight_after_filter * motion.twice[i]);
  }
  add_scaled(once, 1.0F, sum);
}

RateEvidence SpectralView::at(std::size_t first) {
  RateEvidence evidence;
  evidence.weights.fill(1.0F);
  if (first + window_ > signals_.size()) return evidence;
  const Motion motion = motion_at(first);
  if (motion.any) {
    fit_removal(first);
    const auto strongest = std::max_element(motion.once.begin(), motion.once.end()) - motion.once.begin();
    evidence.cadence_bpm = grid_bpm(static_cast<std::size_t>(strongest));
  }

  RateWeights weighted{}, filtered{};
  for (std::size_t k = 0; k < pulse_.size(); ++k) {
    if (!read_pulse(k, first) || !add_weighted(motion, weighted)) continue;
    evidence.readable = true;
    if (!motion.any) continue;
    removal_.remove(pulse_[k], k, first, stretch_);
    add_filtered(motion, filtered);
  }
  if (!evidence.readable) return evidence;

  RateWeights& weights = evidence.weights;
  weights.fill(0.0F);
  add_scaled(weighted, weighted_share, weights);
  add_scaled(filtered, 1.0F - weighted_share, weights);
  const float rhythmic = std::clamp((motion.rhythm - least_rhythm) / (clear_rhythm - least_rhythm), 0.0F, 1.0F);
  for (std::size_t i = 0; i < grid_size; ++i)
    weights[i] *= elementary::pow(slow_doubt_[i], rhythmic * std::min(1.0F, motion.once[i]));
  const float most = largest(weights);
  for (float& w : weights) w /= most;
  return evidence;
}

}  // namespace pulsewright::beats_stage
