#include <algorithm>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"
#include "pulsewright/bench_test.hpp"

namespace pulsewright {
namespace {

/// One complex: a triangle, and a T wave after it.
struct Complex {
  double time = 0;  ///< of its peak, in s
  double height_mv = 1.0;
  double width_s = 0.070;  ///< EC13: QRS of 70 to 120 ms must be counted, of 10 ms must not
  double t_height_mv = 0;
  bool ventricular = false;
};

constexpr double ventricular_width_s = 0.120;
constexpr double t_width_s = 0.180;
/// From the peak of the QRS to that of the T wave.
constexpr double t_delay_s = 0.300;
constexpr double first_beat_s = 0.5;
constexpr double narrow_width_s = 0.010;
constexpr double small_mv = 0.15;

Complex narrow_beat(double time) { return {.time = time}; }
Complex ventricular(double time, double height) {
  return {.time = time,
          .height_mv = height,
          .width_s = ventricular_width_s,
          .t_height_mv = -0.25 * height,
          .ventricular = true};
}

/// Complexes at a constant rate from `from` up to `to`.
void add_even(std::vector<Complex>& beats, double from, double to, double bpm, const Complex& form) {
  const double interval = 60.0 / bpm;
  for (int k = 0; from + k * interval < to; ++k) {
    Complex beat = form;
    beat.time = from + k * interval;
    beats.push_back(beat);
  }
}

/// Patterns of complexes that repeat: offsets inside a cycle.
std::vector<Complex> repeated(double duration, double cycle, const std::vector<Complex>& pattern) {
  std::vector<Complex> beats;
  for (int k = 0; first_beat_s + k * cycle < duration; ++k)
    for (Complex beat : pattern) {
      beat.time += first_beat_s + k * cycle;
      if (beat.time < duration) beats.push_back(beat);
    }
  return beats;
}

/// The height in the name `t_wave_1.2mv`, in tenths.
int tenths_in(const std::string& name) {
  constexpr std::size_t ones = 7, tenths = 9;
  return 10 * (name[ones] - '0') + (name[tenths] - '0');
}

std::vector<Complex> complexes_of(const BenchWave& wave) {
  const double end = wave.duration.value(), bpm = wave.expected.value();
  const std::string& name = wave.name;
  std::vector<Complex> beats;
  if (name == "ventricular_bigeminy_80") {
    // Each pair lasts two intervals at 80: a normal beat, an early ventricular one, a pause.
    beats = repeated(end, 120.0 / bpm, {narrow_beat(0), ventricular(0.45, 1.4)});
  } else if (name == "slow_alternating_60" || name == "rapid_alternating_120") {
    beats = repeated(end, 120.0 / bpm, {narrow_beat(0), ventricular(60.0 / bpm, 0.8)});
  } else if (name == "bidirectional_90") {
    beats = repeated(end, 120.0 / bpm, {ventricular(0, 1.0), ventricular(60.0 / bpm, -1.0)});
  } else if (wave.before) {
    add_even(beats, first_beat_s, wave.step_at.value(), wave.before->value(), Complex{});
    add_even(beats, beats.back().time + 60.0 / bpm, end, bpm, Complex{});
  } else {
    Complex form;
    if (name.starts_with("t_wave_")) form.t_height_mv = 0.1 * tenths_in(name);
    if (name.starts_with("small_")) form.height_mv = small_mv;
    if (name.starts_with("narrow_")) form.width_s = narrow_width_s;
    add_even(beats, first_beat_s, end, wave.answer == BenchAnswer::no_response ? 80.0 : bpm, form);
  }
  return beats;
}

double triangle(double x, double width) { return std::max(0.0, 1 - 2 * std::abs(x) / width); }
double half_sine(double x, double width) {
  return std::abs(x) < 0.5 * width ? elementary::cos(std::numbers::pi * x / width) : 0.0;
}

}  // namespace

const char* to_string(BenchAnswer answer) {
  switch (answer) {
    case BenchAnswer::reading: return "reading";
    case BenchAnswer::no_response: return "no_response";
    case BenchAnswer::step: return "step";
  }
  return "reading";
}

std::vector<BenchWave> bench_waves() {
  std::vector<BenchWave> waves;
  const auto reading = [&waves](std::string name, std::string summary, double bpm) {
    waves.push_back(
        {.name = std::move(name), .summary = std::move(summary), .expected = BeatsPerMinute{bpm}, .step_at = {}});
  };
  reading("ventricular_bigeminy_80", "every other beat ventricular and early; all complexes count", 80);
  reading("slow_alternating_60", "normal and ventricular complexes by turns, 60 a minute", 60);
  reading("rapid_alternating_120", "normal and ventricular complexes by turns, 120 a minute", 120);
  reading("bidirectional_90", "ventricular complexes up and down by turns, 90 a minute", 90);
  for (const char* height : {"0.2", "0.4", "0.6", "0.8", "1.0", "1.2"})
    reading(std::string("t_wave_") + height + "mv",
            std::string("QRS of 1 mV with T waves of ") + height + " mV: no beat counts twice", 80);
  for (const int bpm : {30, 60, 120, 200})
    reading("rate_" + std::to_string(bpm), "an even rhythm, " + std::to_string(bpm) + " a minute", bpm);
  const auto silent = [&waves](std::string name, std::string summary) {
    waves.push_back({.name = std::move(name),
                     .summary = std::move(summary),
                     .answer = BenchAnswer::no_response,
                     .expected = {},
                     .step_at = {}});
  };
  silent("small_0.15mv_80", "complexes of 0.15 mV, 80 a minute: nothing may be counted");
  silent("narrow_10ms_80", "pulses of 1 mV and 10 ms, 80 a minute: nothing may be counted");
  const auto step = [&waves](std::string name, double before, double after) {
    waves.push_back({.name = std::move(name),
                     .summary = "a step of the rate at 40 s; the time to follow is disclosed",
                     .answer = BenchAnswer::step,
                     .expected = BeatsPerMinute{after},
                     .before = BeatsPerMinute{before},
                     .step_at = Seconds{40},
                     .duration = Seconds{100}});
  };
  step("step_80_to_120", 80, 120);
  step("step_80_to_40", 80, 40);
  return waves;
}

std::vector<float> bench_samples(const BenchWave& wave, Hertz rate) {
  constexpr double least_rate = 200;
  if (!(rate.value() >= least_rate))
    throw Error{ErrorCode::contract, "bench_samples: pulses of 10 ms need a rate of 200 Hz or more"};
  std::vector<double> sum(static_cast<std::size_t>(std::lround(samples_in(wave.duration, rate))), 0.0);
  const auto add = [&](double centre, double width, double height, double (*shape)(double, double)) {
    if (height == 0) return;
    const auto from = std::max<std::int64_t>(0, static_cast<std::int64_t>(std::ceil((centre - width) * rate.value())));
    const auto to = std::min(static_cast<std::int64_t>(sum.size()) - 1,
                             static_cast<std::int64_t>(std::floor((centre + width) * rate.value())));
    for (std::int64_t i = from; i <= to; ++i)
      sum[static_cast<std::size_t>(i)] += height * shape(static_cast<double>(i) / rate.value() - centre, width);
  };
  for (const Complex& beat : complexes_of(wave)) {
    add(beat.time, beat.width_s, beat.height_mv, triangle);
    add(beat.time + t_delay_s, t_width_s, beat.t_height_mv, half_sine);
  }
  return {sum.begin(), sum.end()};
}

Recording bench_recording(const BenchWave& wave, Hertz rate) {
  Recording recording;
  Channel channel;
  channel.name = std::string("ecg");
  channel.unit = std::string("mV");
  channel.kind = ChannelKind::ecg;
  channel.rate = rate;
  channel.samples = bench_samples(wave, rate);
  recording.channels.push_back(std::move(channel));
  recording.duration = wave.duration;
  recording.provenance = {.input = wave.name, .format = "simulated", .sha256 = "", .options = "", .version = version()};
  return recording;
}

BeatTrain bench_beats(const BenchWave& wave) {
  BeatTrain train;
  train.duration = wave.duration;
  for (const Complex& complex : complexes_of(wave)) {
    Beat beat;
    beat.time = Seconds{complex.time};
    beat.confidence = 1;
    beat.label = complex.ventricular ? BeatLabel::ventricular : BeatLabel::normal;
    train.candidates.push_back(beat);
  }
  return train;
}

}  // namespace pulsewright
