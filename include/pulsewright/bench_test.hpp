/// Waves with known answers for a heart-rate meter on the bench, and the scorer of what it made of them. After the tests of ANSI/AAMI EC13 and IEC 60601-2-27 [from memory]; the
/// standard's own figures are not reproduced: the waves are ours and have the widths, heights and rates that it names.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// What a meter must make of a wave.
enum class BenchAnswer {
  reading,      ///< show `expected` within 10 % or 5 beats/min
  no_response,  ///< count nothing
  step,         ///< follow from `before` to `expected`; how long it takes is disclosed, not judged
};
[[nodiscard]] const char* to_string(BenchAnswer answer);

/// One wave of the bench test.
struct BenchWave {
  std::string name;     ///< `bigeminy_80`, ...; also the name of its files
  std::string summary;  ///< in words
  BenchAnswer answer = BenchAnswer::reading;
  BeatsPerMinute expected;                              ///< of `reading` and `step`
  std::optional<BeatsPerMinute> before = std::nullopt;  ///< of `step`
  Seconds step_at;                                      ///< of `step`
  Seconds duration{60.0};
};

/// All waves: `ventricular_bigeminy_80`, `slow_alternating_60`, `rapid_alternating_120`, `bidirectional_90`; `t_wave_0.2mv` to `t_wave_1.2mv`, QRS 1 mV at 80;
/// `small_0.15mv_80` and `narrow_10ms_80`, which nothing may answer to; `step_80_to_120`, `step_80_to_40`; `rate_30`, `rate_60`, `rate_120`, `rate_200`.
[[nodiscard]] std::vector<BenchWave> bench_waves();

/// The wave in mV from 0 s on, at any rate of at least 200 Hz (Error{contract}): triangular QRS of 70 ms (narrow: 10 ms; ventricular: 120 ms), T waves half a sine of
/// 180 ms (ours).
[[nodiscard]] std::vector<float> bench_samples(const BenchWave& wave, Hertz rate);

/// The same as a recording of one ECG channel, and the complexes in it.
[[nodiscard]] Recording bench_recording(const BenchWave& wave, Hertz rate);
[[nodiscard]] BeatTrain bench_beats(const BenchWave& wave);

/// A wave as it was found in a recording of what came back.
struct BenchReturn {
  double gain = 1;         ///< units of the recording for each mV of the wave; below 0 where it came back upside down
  Seconds delay;           ///< of the wave's beginning, by the recording's clock
  double correlation = 0;  ///< of both at that delay; far from 1 or -1 the wave is not in there, or much distorted
};
/// Below this a recording is not taken to hold the wave, and tells no gain.
inline constexpr double least_bench_correlation = 0.5;

/// Looks for a wave in a channel, of whatever gain, offset and polarity and beginning anywhere, as long as 20 s of it are there. Of a wave that repeats, the delay is known but for whole
/// periods where the recording does not hold all of it. Nothing for less than 20 s, less than 50 Hz, or a channel that does not vary.
[[nodiscard]] std::optional<BenchReturn> find_wave(const BenchWave& wave, const Channel& returned);

/// How a meter did on one wave.
struct BenchResult {
  BenchWave wave;
  std::optional<BeatsPerMinute> shown;  ///< median of its readings from 20 s on; for steps, of the last 20 s
  std::optional<Seconds>
      time_to_follow;          ///< of steps: until the readings stay within 10 % or 5 beats/min of the new rate
  std::optional<bool> passed;  ///< nothing for steps that were followed, which are disclosed, and without readings
  std::string note;            ///< several are parted by semicolons
  std::optional<BenchReturn> returned = std::nullopt;  ///< where a recording came back in which the wave was found
  bool undecided = false;                              ///< too little came back to tell; then `passed` is nothing

  void add_note(const std::string& more) { note += (note.empty() ? "" : "; ") + more; }
};

/// Scores readings over time, the wave beginning at `delay`. What ends well before the wave does, or begins well after it, is noted; when it ends before anything could be read it is undecided. A rate at any time from 20 s after that to the end of the wave is a response. No windows at all, or none with a rate, count as no response.
[[nodiscard]] BenchResult score_bench(const BenchWave& wave, const RateSeries& readings, Seconds delay = Seconds{0});
/// Scores the single number that somebody read off after 20 s or more; nothing: the meter showed none.
[[nodiscard]] BenchResult score_bench(const BenchWave& wave, std::optional<BeatsPerMinute> reading);

}  // namespace pulsewright
