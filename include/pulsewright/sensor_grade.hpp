/// Stage 7: a sensor alone, graded from what it recorded: noise, steps of its converter, clock, clipping, hum, light, and what its sampling rate is good for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

struct GradeOptions {
  std::optional<double> full_scale =
      std::nullopt;               ///< range of the converter in the channel's unit; else the range in use stands for it
  BeatsPerMinute highest{180.0};  ///< rates up to here are wanted
  Seconds window{8.0};            ///< over which a rate is taken
  double rate_error_bpm = 1.0;    ///< that one sample may make
  double rmssd_ms = 20.0;         ///< a low RMSSD that is still to be measured
  double rmssd_error_percent = 2.0;
};

/// What a measure asks of the sampling rate when beats fall on whole samples. Interpolating between samples asks for less.
struct NeededRate {
  std::string measure;  ///< `rate_over_window`, `rate_of_each_beat`, `rmssd`
  std::string rule;     ///< in words
  Hertz needed;
  bool met = false;
};

/// Mains hum in one channel.
struct Hum {
  Hertz mains;     ///< 50 or 60 Hz
  Hertz seen_at;   ///< where sampling folds it to
  double rms = 0;  ///< in the channel's unit
};

struct ChannelGrade {
  std::string channel, unit;
  ChannelKind kind = ChannelKind::other;
  Hertz rate;
  std::int64_t samples = 0;  ///< that were to be recorded, the lost ones included

  std::optional<double> step;       ///< smallest distance between two values
  std::optional<double> range;      ///< from the lowest to the highest thousandth of the values
  std::optional<double> noise_rms;  ///< white noise, from the spectrum's density between 0.6 and 0.95 of half the rate
  std::optional<double>
      effective_bits;  ///< log2(full scale / (noise_rms sqrt 12)), the definition of IEEE 1241 for noise alone
  std::optional<double> signal_to_noise_db;  ///< of the conditioned wave
  std::optional<double> jitter_ms;           ///< SD of the moments of sampling around an even grid
  std::int64_t lost = 0;                     ///< samples that are missing
  std::optional<double> lost_percent;
  Seconds longest_gap;
  std::optional<double> clipped_percent;    ///< samples in runs of three or more at the lowest or highest value
  std::optional<Hum> hum;                   ///< the stronger of both mains frequencies, where one stands out
  std::optional<double> perfusion_percent;  ///< pulse height over steady light
  std::optional<double> readable_percent;   ///< time in which beats could be looked for
  std::vector<NeededRate> needed;           ///< of ECG and pulse channels
  std::vector<Reason> reasons;              ///< one for each absent value
};

struct SensorGrade {
  std::vector<ChannelGrade> channels;
  GradeOptions options;
  Warnings warnings;
  Provenance provenance;
};

/// Grades every channel. Filters in the device lower noise near half the rate and make the grade better than it is. The noise of a channel shorter than 8 s, or sampled
/// below 16 Hz, is not told. Throws Error{contract} for options that are not positive.
[[nodiscard]] SensorGrade grade_sensor(const Recording& recording, const GradeOptions& options = {});

/// The sampling rates that the measures of `options` need, met or not by `rate`.
[[nodiscard]] std::vector<NeededRate> needed_rates(Hertz rate, const GradeOptions& options = {});

}  // namespace pulsewright
