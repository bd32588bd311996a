#include "timeline.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"
#include "narrow_band.hpp"
#include "rate_course.hpp"

namespace pulsewright::simulation {

namespace {

/// The interval averages the modulation over its own length and so flattens it by sinc(f / rate); this undoes it, up to 1.5.
double averaging_gain(double modulation_hz, double rate_hz) {
  const double x = modulation_hz / rate_hz;
  const double sinc = x < 1e-6 ? 1.0 : elementary::sine_of_turns(0.5 * x) / (std::numbers::pi * x);
  return x >= 0.6 || sinc < 1.0 / 1.5 ? 1.5 : 1.0 / sinc;
}

/// The modulated rate never leaves this share of the course.
constexpr double deepest_modulation = 0.5;

}  // namespace

Timeline::Timeline(const Scenario& scenario, double duration)
    : phases_(scenario.phases),
      end_(duration + margin),
      resting_breaths_(scenario.heart.resting_breaths.value()),
      breaths_range_((scenario.heart.fastest_breaths - scenario.heart.resting_breaths).value()) {
  const Heart& heart = scenario.heart;
  double phase_end = 0.0;
  for (const WorkPhase& phase : phases_) {
    phase_end += phase.duration.value();
    phase_ends_.push_back(phase_end);
  }

  const NarrowBand low(heart.band_sd.value(), Random(scenario.seed, Stream::low_frequency));
  const NarrowBand high(heart.band_sd.value(), Random(scenario.seed, Stream::breathing));
  // Relative depth at rest: SD of intervals over their mean, shared between the bands.
  const double depth = heart.resting_sdnn_ms / 1000.0 * heart.resting.value() / 60.0;
  const double low_depth = depth * std::sqrt(heart.lf_hf / (1.0 + heart.lf_hf));
  const double high_depth = depth * std::sqrt(1.0 / (1.0 + heart.lf_hf));

  RateCourse course(heart, phases_.front());
  const auto count = static_cast<std::size_t>(std::ceil((end_ - start()) / step)) + 2;
  double breath_turns = 0.0;
  double beats = 0.0;
  double last_hz = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const double t = start() + step * static_cast<double>(i);
    if (i > 0) course.advance(phase(t - 0.5 * step), step);
    const double rate = course.rate();
    const double used = std::clamp((rate - heart.resting.value()) / (heart.maximum - heart.resting).value(), 0.0, 1.0);
    const double breaths = resting_breaths_ + breaths_range_ * used;
    if (i > 0) breath_turns += breaths * step;
    const double breath = high.at(t, breath_turns);
    const double rate_hz = rate / 60.0;
    const double centre = heart.lf_centre.value();
    const double modulation =
        low_depth * elementary::exp(-heart.lf_fading * used) * averaging_gain(centre, rate_hz) * low.at(t, centre * t) +
        high_depth * elementary::exp(-heart.breathing_fading * used) * averaging_gain(breaths, rate_hz) * breath;
    const double hz = rate_hz * (1.0 + std::clamp(modulation, -deepest_modulation, deepest_modulation));
    if (i > 0) beats += 0.5 * (last_hz + hz) * step;
    last_hz = hz;
    rate_.push_back(rate);
    reserve_.push_back(used);
    breath_.push_back(breath);
    beats_.push_back(beats);
  }
}

double Timeline::at(const std::vector<double>& values, double t) const {
  const double x = std::clamp((t - start()) / step, 0.0, static_cast<double>(values.size() - 1));
  const auto i = std::min(static_cast<std::size_t>(x), values.size() - 2);
  const double part = x - static_cast<double>(i);
  return values[i] + part * (values[i + 1] - values[i]);
}

double Timeline::breaths_hz(double t) const { return resting_breaths_ + breaths_range_ * reserve(t); }

double Timeline::when(double beats) const {
  const auto above = std::upper_bound(beats_.begin(), beats_.end(), beats);
  if (above == beats_.end()) return end_;
  if (above == beats_.begin()) return start();
  const auto i = static_cast<std::size_t>(above - beats_.begin()) - 1;
  const double part = (beats - beats_[i]) / (beats_[i + 1] - beats_[i]);
  return start() + step * (static_cast<double>(i) + part);
}

const WorkPhase& Timeline::phase(double t) const {
  const auto found = std::upper_bound(phase_ends_.begin(), phase_ends_.end(), t);
  if (found == phase_ends_.end()) return phases_.back();
  return phases_[static_cast<std::size_t>(found - phase_ends_.begin())];
}

}  // namespace pulsewright::simulation
