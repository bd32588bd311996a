#include <algorithm>
#include <cmath>
#include <functional>

#include "check_filter.hpp"
#include "gaps.hpp"
#include "pulsewright/condition.hpp"
#include "repetition.hpp"
#include "uniform_grid.hpp"

namespace pulsewright {

namespace {

using condition_stage::Thinned;

/// The shape is measured in stretches of this length, this many at most, spread over the channel.
constexpr double stretch_s = 10.0;
constexpr std::size_t most_stretches = 24;
/// A shorter channel is not judged: it may not hold two beats.
constexpr double shortest_s = 3.0;
/// Slopes are taken over this time.
constexpr double slope_lag_s = 0.020;
constexpr Hertz baseline{0.67};
constexpr Hertz drift{0.15};
constexpr Hertz pulse_top{8.0};

// Limits between the kinds, set on the development records of arrhythmia, exercise_wrist, treadmill_pulse, anaesthesia_pulse and bedside.
/// Share of slope energy in the steepest tenth of the samples: an ECG is steep in its QRS complexes alone.
constexpr double ecg_steepness = 0.60;
/// Share of power below 8 Hz: a pulse has nearly all of it there, only broad QRS complexes come near.
constexpr double ecg_most_slow = 0.92;
constexpr double pulse_least_slow = 0.80;
/// Share of the power above 0.15 Hz that lies above 0.67 Hz: breathing has its fundamental below.
constexpr double pulse_least_quick = 0.25;
/// Repetition at the pace of a heart.
constexpr double pulse_least_repetition = 0.35;

/// What one stretch looks like.
struct Shape {
  double steepness;
  double slow;
  double quick;
  double repetition;
};

double energy(std::span<const float> x) {
  double sum = 0.0;
  for (const float v : x) sum += static_cast<double>(v) * static_cast<double>(v);
  return sum;
}

double steepness_of(std::span<const float> x, Hertz rate) {
  const auto lag = static_cast<std::size_t>(std::max(1.0, std::round(samples_in(Seconds{slope_lag_s}, rate))));
  std::vector<double> square;
  for (std::size_t i = 0; i + lag < x.size(); ++i) {
    const double d = static_cast<double>(x[i + lag] - x[i]);
    square.push_back(d * d);
  }
  const std::size_t tenth = square.size() / 10;
  std::sort(square.begin(), square.end(), std::greater<>{});
  double steep = 0.0, all = 0.0;
  for (std::size_t i = 0; i < square.size(); ++i) {
    all += square[i];
    if (i < tenth) steep += square[i];
  }
  return all > 0.0 ? steep / all : 0.0;
}

double median(std::vector<Shape>& shapes, double Shape::*member) {
  const auto middle = shapes.begin() + static_cast<std::ptrdiff_t>(shapes.size() / 2);
  std::nth_element(shapes.begin(), middle, shapes.end(),
                   [&](const Shape& a, const Shape& b) { return a.*member < b.*member; });
  return (*middle).*member;
}

}  // namespace

ChannelKind guess_kind(const Channel& channel) {
  const Hertz rate = channel.rate;
  condition_stage::check_rate(rate, "guess the kind of channel '" + channel.name + "'");
  if (!(pulse_top < rate / 2.0)) return ChannelKind::other;
  std::vector<float> values = condition_stage::uniform_grid(channel, ConditionOptions{}.bridge).values;
  const auto missing = condition_stage::find_missing(values);
  (void)condition_stage::fill_missing(values, missing, 0.0);
  const std::size_t n = values.size();
  if (static_cast<double>(n) < samples_in(Seconds{shortest_s}, rate)) return ChannelKind::other;

  const Sections undrift = butterworth_highpass(2, drift, rate);
  const Sections high = butterworth_highpass(2, baseline, rate);
  const Sections low = butterworth_lowpass(2, pulse_top, rate);
  const std::size_t length = std::min(n, static_cast<std::size_t>(samples_in(Seconds{stretch_s}, rate)));
  const std::size_t count = std::min(most_stretches, n / length);
  std::vector<Shape> shapes;
  for (std::size_t s = 0; s < count; ++s) {
    const std::size_t first = count == 1 ? 0 : (n - length) * s / (count - 1);
    const std::span<const float> stretch = std::span{values}.subspan(first, length);
    const std::vector<float> x = filter_zero_phase(high, stretch);
    const double all = energy(x);
    const double with_breath = energy(filter_zero_phase(undrift, stretch));
    if (!(all > 0.0) || !(with_breath > 0.0)) continue;  // flat
    const std::vector<float> smooth = filter_zero_phase(low, x);
    const Thinned thinned = condition_stage::thin(smooth, rate);
    shapes.push_back({steepness_of(x, rate), energy(smooth) / all, all / with_breath,
                      condition_stage::repetition(thinned.values, thinned.rate)});
  }
  if (shapes.empty()) return ChannelKind::other;

  const double steepness = median(shapes, &Shape::steepness);
  const double slow = median(shapes, &Shape::slow);
  if (steepness > ecg_steepness && slow < ecg_most_slow) return ChannelKind::ecg;
  const bool pulse = slow > pulse_least_slow && median(shapes, &Shape::quick) > pulse_least_quick &&
                     median(shapes, &Shape::repetition) > pulse_least_repetition;
  return pulse ? ChannelKind::pulse : ChannelKind::other;
}

}  // namespace pulsewright
