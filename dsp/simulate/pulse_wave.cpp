#include "pulse_wave.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"
#include "random.hpp"

namespace pulsewright::simulation {

namespace {

// In seconds at 60 beats/min, where a turn is a second.
constexpr double systolic_sd = 0.6 / (2.0 * std::numbers::pi);
constexpr double diastolic_lag = 0.25;
constexpr double diastolic_sd = 1.2 / (2.0 * std::numbers::pi);
constexpr double diastolic_height = 0.4 / 0.82;

/// Spread of the delay from beat to beat, part random and part with breathing (ours, of the order seen at rest).
constexpr double delay_sd = 0.002;
constexpr double delay_breath = 0.004;
/// A pulse is never weaker or stronger than this for its filling.
constexpr double weakest = 0.1;
constexpr double strongest = 1.4;

}  // namespace

std::vector<PulseDue> pulses_due(const std::vector<Contraction>& contractions, const Timeline& timeline,
                                 const PulseSensor& sensor, std::uint64_t seed) {
  Random random(seed, Stream::pulse_delay);
  std::vector<PulseDue> due;
  due.reserve(contractions.size());
  for (const Contraction& c : contractions) {
    const double breath = timeline.breath(c.time);
    const double used = timeline.reserve(c.time);
    const double mean = sensor.resting_delay.value() + used * (sensor.shortest_delay - sensor.resting_delay).value();
    const double spread = (1.0 - 0.7 * used) * (delay_sd * random.gaussian() - delay_breath * breath);
    const double filling = std::clamp(elementary::pow(c.interval / c.usual, sensor.filling), weakest, strongest);
    // A contraction from the ventricle is badly coordinated and throws out less (ours).
    const double throw_out = c.label == BeatLabel::ventricular ? 0.7 : 1.0;
    const double height = filling * throw_out * std::max(1.0 + sensor.breathing_depth * breath, 0.2);
    due.push_back({c.time + mean + spread, height});
  }
  return due;
}

BumpWave pulse_wave(const std::vector<Contraction>& contractions, const std::vector<PulseDue>& due) {
  BumpWave wave;
  for (std::size_t i = 0; i < due.size(); ++i) {
    const double s = std::sqrt(contractions[i].usual);
    wave.add({due[i].time, s * systolic_sd, due[i].height});
    wave.add({due[i].time + s * diastolic_lag, s * diastolic_sd, diastolic_height * due[i].height});
  }
  wave.finish();
  return wave;
}

BumpWave::Peak systolic_peak(const BumpWave& wave, const PulseDue& due, const Contraction& contraction) {
  return wave.peak_near(due.time, 0.08 * std::sqrt(contraction.usual));
}

}  // namespace pulsewright::simulation
