#include "disturbance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"
#include "narrow_band.hpp"

namespace pulsewright::simulation {

namespace {

constexpr double muscle_low_hz = 20.0;
constexpr double muscle_high_hz = 120.0;
/// Contractions swell and fade at about this rate.
constexpr double muscle_swell_hz = 0.4;
constexpr double third_harmonic = 0.15;
/// Slow wander (posture, skin) is a narrow band about this, with this SD.
constexpr double wander_hz = 0.08;
constexpr double wander_sd_hz = 0.02;

double variance(const std::vector<double>& values) {
  double mean = 0.0;
  for (const double v : values) mean += v;
  mean /= static_cast<double>(values.size());
  double sum = 0.0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return sum / static_cast<double>(values.size());
}

void scale_to_rms(std::vector<double>& values, double rms) {
  double sum = 0.0;
  for (const double v : values) sum += v * v;
  if (sum <= 0.0) return;
  const double scale = rms / std::sqrt(sum / static_cast<double>(values.size()));
  for (double& v : values) v *= scale;
}

/// White noise through a first-order high-pass at 20 Hz and a first-order low-pass at 120 Hz (or 0.4 of a lower rate), swelling and fading.
std::vector<double> muscle(std::size_t size, double rate_hz, double rms, Random random) {
  const double high_keep = elementary::exp(-2.0 * std::numbers::pi * std::min(muscle_low_hz, 0.2 * rate_hz) / rate_hz);
  const double low_keep = elementary::exp(-2.0 * std::numbers::pi * std::min(muscle_high_hz, 0.4 * rate_hz) / rate_hz);
  const double swell_keep = elementary::exp(-2.0 * std::numbers::pi * muscle_swell_hz / rate_hz);
  const double swell_kick = std::sqrt(1.0 - swell_keep * swell_keep);
  std::vector<double> values(size);
  double slow = 0.0;
  double smooth = 0.0;
  double swell = random.gaussian();
  for (double& value : values) {
    const double white = random.gaussian();
    slow = white + high_keep * (slow - white);
    smooth = (white - slow) + low_keep * (smooth - (white - slow));
    swell = swell_keep * swell + swell_kick * random.gaussian();
    value = smooth * elementary::exp(0.5 * swell);
  }
  scale_to_rms(values, rms);
  return values;
}

}  // namespace

std::vector<double> disturbance(const Disturbance& options, const std::vector<double>& clean, const SampleTimes& times,
                                const Timeline& timeline, Hertz rate, Random random) {
  // Each kind draws from a stream of its own, split off in a fixed order.
  const auto split = [&random] {
    const std::uint64_t a = random.bits();
    const std::uint64_t b = random.bits();
    return Random({a, b, a ^ 0x9e3779b97f4a7c15U, b | 1U});
  };
  Random white_random = split();
  const Random muscle_random = split();
  Random mains_random = split();
  Random wander_random = split();

  Disturbance d = options;
  const bool none = d.white <= 0.0 && d.muscle <= 0.0 && d.mains <= 0.0 && d.baseline <= 0.0;
  if (d.snr_db && none) d.white = 1.0;

  std::vector<double> sum(times.size(), 0.0);
  if (d.white > 0.0) {
    for (double& v : sum) v += d.white * white_random.gaussian();
  }
  if (d.muscle > 0.0) {
    const std::vector<double> values = muscle(times.size(), rate.value(), d.muscle, muscle_random);
    for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += values[i];
  }
  if (d.mains > 0.0) {
    const double phase = mains_random.uniform();
    const double third_phase = mains_random.uniform();
    const double amplitude = d.mains * std::sqrt(2.0 / (1.0 + third_harmonic * third_harmonic));
    for (std::size_t i = 0; i < sum.size(); ++i) {
      const double turns = d.mains_frequency.value() * times.true_time(i);
      sum[i] += amplitude * (elementary::sine_of_turns(turns + phase) +
                             third_harmonic * elementary::sine_of_turns(3.0 * turns + third_phase));
    }
  }
  if (d.baseline > 0.0) {
    const NarrowBand wander(wander_sd_hz, wander_random);
    const double half = d.baseline * std::sqrt(0.5);
    for (std::size_t i = 0; i < sum.size(); ++i) {
      const double t = times.true_time(i);
      sum[i] += half * (timeline.breath(t) + wander.at(t, wander_hz * t));
    }
  }
  if (d.snr_db && !sum.empty()) {
    const double noise = variance(sum);
    const double wanted = variance(clean) / elementary::pow(10.0, *d.snr_db / 10.0);
    const double scale = noise > 0.0 ? std::sqrt(wanted / noise) : 0.0;
    for (double& v : sum) v *= scale;
  }
  return sum;
}

}  // namespace pulsewright::simulation
