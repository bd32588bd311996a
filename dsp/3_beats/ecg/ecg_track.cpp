#include "ecg_track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <tuple>
#include <utility>

#include "3_beats/next_missing.hpp"
#include "3_beats/simd_lanes.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// The track's grid: fast enough for energy up to 40 Hz, slow enough to be cheap.
constexpr double wanted_track_rate_hz = 120.0;

// Centre frequencies and widths of the two wavelets. The narrow one was the best of six tried on the development records, the wide one was chosen by hand (the narrow one lies where the energy of the QRS complex
// is highest against that of P and T waves; Thakor et al. 1984, IEEE TBME 31:702, put it at about 17 Hz [from memory]).
constexpr double narrow_hz = 16.0;
constexpr double narrow_sigma_s = 0.020;
constexpr double wide_hz = 7.0;
constexpr double wide_sigma_s = 0.040;

// Taps reach this many standard deviations to either side.
constexpr double wavelet_reach = 3.0;

// A step over a gap dies away with this time constant: slowly enough to leave no QRS-like edge.
constexpr Seconds step_fading{0.20};

}  // namespace

EcgTracker::Wavelet EcgTracker::make_wavelet(double centre_hz, double sigma_s, double rate_hz) {
  const auto reach = static_cast<std::size_t>(std::ceil(wavelet_reach * sigma_s * rate_hz));
  std::vector<double> window(reach + 1), even(reach + 1), odd(reach + 1);
  double window_sum = 0, even_sum = 0;
  for (std::size_t k = 0; k <= reach; ++k) {
    const double t = static_cast<double>(k) / rate_hz;
    window[k] = elementary::exp(-0.5 * (t / sigma_s) * (t / sigma_s));
    even[k] = window[k] * elementary::cos(2.0 * std::numbers::pi * centre_hz * t);
    odd[k] = window[k] * elementary::sin(2.0 * std::numbers::pi * centre_hz * t);
    window_sum += (k == 0 ? 1.0 : 2.0) * window[k];
    even_sum += (k == 0 ? 1.0 : 2.0) * even[k];
  }
  // No response to a constant; unit energy at any rate, so that amplitudes compare.
  double energy = 0;
  for (std::size_t k = 0; k <= reach; ++k) {
    even[k] -= window[k] * even_sum / window_sum;
    energy += (k == 0 ? 1.0 : 2.0) * even[k] * even[k];
  }
  const double scale = 1.0 / std::sqrt(energy * rate_hz);
  Wavelet wavelet;
  for (std::size_t k = 0; k <= reach; ++k) {
    wavelet.even.push_back(static_cast<float>(scale * even[k]));
    wavelet.odd.push_back(static_cast<float>(scale * odd[k]));
  }
  return wavelet;
}

EcgTracker::EcgTracker(Hertz input_rate)
    : step_(std::max(1, static_cast<int>(std::lround(input_rate.value() / wanted_track_rate_hz)))),
      rate_(input_rate / step_),
      narrow_(make_wavelet(narrow_hz, narrow_sigma_s, rate_.value())),
      wide_(make_wavelet(wide_hz, wide_sigma_s, rate_.value())) {
  fading_ = static_cast<float>(elementary::exp(-period(input_rate) / step_fading));
  for (int k = 1 - step_; k < step_; ++k) {
    low_.push_back(static_cast<float>(step_ - std::abs(k)) / static_cast<float>(step_ * step_));
  }
  // The signal before its start counts as zero: half a kernel of history for either stage.
  raw_.assign(static_cast<std::size_t>(step_ - 1), 0.0F);
  slow_.assign(wide_.even.size() - 1, 0.0F);
}

EcgTrack EcgTracker::empty_track() const {
  EcgTrack track;
  track.rate = rate_;
  track.step = step_;
  return track;
}

Seconds EcgTracker::delay() const {
  const double slow_samples = static_cast<double>(wide_.even.size() - 1);
  const Hertz input_rate = rate_ * static_cast<double>(step_);
  return Seconds{slow_samples / rate_.value() + static_cast<double>(step_ - 1) / input_rate.value()};
}

void EcgTracker::bridge(std::span<const float> values) {
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (!missing_ && step_over_ == 0) {
      // Nothing to take up: as it is, up to the next gap.
      const std::size_t gap = next_missing(values, i);
      const auto as_it_is = values.subspan(i, gap - i);
      raw_.insert(raw_.end(), as_it_is.begin(), as_it_is.end());
      if (!as_it_is.empty()) last_ = as_it_is.back();
      if (gap == values.size()) return;
      i = gap;
    }
    if (std::isnan(values[i])) {
      missing_ = true;
    } else {
      // The first sample after a gap takes up where the last one left off; the step between them dies away.
      if (missing_) step_over_ = values[i] - last_;
      missing_ = false;
      last_ = values[i] - step_over_;
    }
    step_over_ *= fading_;
    if (std::abs(step_over_) < std::numeric_limits<float>::min()) step_over_ = 0;
    raw_.push_back(last_);
  }
}

void EcgTracker::decimate(std::span<const float> values) {
  bridge(values);
  const std::size_t taps = low_.size();
  const auto hop = static_cast<std::size_t>(step_);
  const std::size_t ready = raw_.size() < taps ? 0 : (raw_.size() - taps) / hop + 1;
  const std::size_t before_these = slow_.size();
  slow_.resize(before_these + ready);
  const float* from = raw_.data();
  for (std::size_t n = 0; n < ready; ++n, from += hop) {
    float sum = 0;
    for (std::size_t k = 0; k < taps; ++k) sum += low_[k] * from[k];
    slow_[before_these + n] = sum;
  }
  raw_.erase(raw_.begin(), raw_.begin() + static_cast<std::ptrdiff_t>(ready * hop));
}

void EcgTracker::energies(const float* centre, std::size_t count, float* narrow, float* wide) const {
  const std::size_t near = narrow_.even.size(), far = wide_.even.size();
  // In lanes, and the last few one by one.
  const auto from = [&](const float* at, const auto& load) {
    using Values = decltype(load(at));
    const Values middle = load(at);
    Values odd{}, wide_even = middle * wide_.even[0], wide_odd{};
    Values even = middle * narrow_.even[0];
    std::size_t k = 1;
    for (; k < near; ++k) {
      const Values before = load(at - k), after = load(at + k);
      const Values sum = after + before, difference = after - before;
      even += sum * narrow_.even[k];
      odd += difference * narrow_.odd[k];
      wide_even += sum * wide_.even[k];
      wide_odd += difference * wide_.odd[k];
    }
    for (; k < far; ++k) {
      const Values before = load(at - k), after = load(at + k);
      wide_even += (after + before) * wide_.even[k];
      wide_odd += (after - before) * wide_.odd[k];
    }
    return std::pair{even * even + odd * odd, wide_even * wide_even + wide_odd * wide_odd};
  };
  std::size_t n = 0;
  for (; n + SimdLanes::count <= count; n += SimdLanes::count) {
    const auto [steep, slow] = from(centre + n, [](const float* at) { return SimdLanes::load(at); });
    steep.store(narrow + n);
    slow.store(wide + n);
  }
  for (; n < count; ++n) std::tie(narrow[n], wide[n]) = from(centre + n, [](const float* at) { return *at; });
}

void EcgTracker::renew(EcgTrack& track, std::size_t first, std::size_t last) const {
  const std::size_t reach = wide_.even.size() - 1;
  std::vector<float> around(last - first + 2 * reach, 0.0F);
  for (std::size_t i = 0; i < around.size(); ++i) {
    if (first + i >= reach && first + i - reach < track.shape.size()) around[i] = track.shape[first + i - reach];
  }
  energies(around.data() + reach, last - first, track.narrow.data() + first, track.wide.data() + first);
}

void EcgTracker::transform(EcgTrack& track) {
  const std::size_t reach = wide_.even.size() - 1;
  if (slow_.size() <= 2 * reach) return;
  const std::size_t ready = slow_.size() - 2 * reach;

  const std::size_t before_these = track.narrow.size();
  for (auto* values : {&track.narrow, &track.wide}) values->resize(before_these + ready);
  energies(slow_.data() + reach, ready, track.narrow.data() + before_these, track.wide.data() + before_these);

  track.shape.insert(track.shape.end(), slow_.begin() + static_cast<std::ptrdiff_t>(reach),
                     slow_.begin() + static_cast<std::ptrdiff_t>(reach + ready));
  slow_.erase(slow_.begin(), slow_.begin() + static_cast<std::ptrdiff_t>(ready));
  emitted_ += static_cast<std::int64_t>(ready);
}

void EcgTracker::push(std::span<const float> values, EcgTrack& track) {
  // In pieces that stay in the cache.
  constexpr std::size_t piece = 4096;
  received_ += static_cast<std::int64_t>(values.size());
  for (std::size_t at = 0; at < values.size(); at += piece) {
    decimate(values.subspan(at, std::min(piece, values.size() - at)));
    transform(track);
  }
}

void EcgTracker::finish(EcgTrack& track) {
  const std::int64_t wanted = (received_ + step_ - 1) / step_;
  last_ = 0;
  const std::vector<float> silence(static_cast<std::size_t>(step_), 0.0F);
  while (emitted_ < wanted) {
    decimate(silence);
    transform(track);
  }
  const auto surplus = static_cast<std::size_t>(emitted_ - wanted);
  for (auto* values : {&track.shape, &track.narrow, &track.wide}) values->resize(values->size() - surplus);
  emitted_ = wanted;
}

}  // namespace pulsewright::beats_stage
