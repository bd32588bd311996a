/// What was recorded: channels of samples on one clock. No algorithms.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// What a channel measures.
enum class ChannelKind { ecg, pulse, acceleration, gyro, respiration, marker, other };

/// The lower-case word for a kind, as used in files and options (`ecg`, `pulse`, `acceleration`, ...).
[[nodiscard]] const char* to_string(ChannelKind kind);

/// Where a result comes from: enough to make it again.
struct Provenance {
  std::string input;    ///< file name without its folder, or a description of a synthetic input
  std::string format;   ///< short name of the recognised format: `text`, `open-record`, `edf`, `simulated`, ...
  std::string sha256;   ///< hash of the input's bytes in hexadecimal; empty when there was no file
  std::string options;  ///< resolved options as one JSON object, empty when all are defaults
  std::string version;  ///< version of pulsewright that produced the result
};

/// The version of this library, `major.minor.patch`.
[[nodiscard]] const char* version();

/// One channel of samples.
///
/// `samples` holds the values in `unit`; a sample that was not recorded (a gap, an "invalid" code, an empty cell) is a
/// quiet NaN, the only use of NaN in the library. When the samples were taken at a constant rate, `times` is empty and
/// sample i is at `start + i / rate`. Otherwise `times` holds one strictly increasing time a sample, and `rate` is the
/// nominal rate (one over the median step).
struct Channel {
  std::string name;  ///< trimmed
  std::string unit;  ///< `mV`, `g`, `counts`, ...; empty when the file does not say
  ChannelKind kind = ChannelKind::other;
  Hertz rate;
  Seconds start;
  std::vector<float> samples;
  std::int64_t skipped = 0;  ///< stored samples of the file before `samples[0]` that were not kept (ReadOptions::start)
  std::vector<double> times;  ///< seconds from the start of the recording; empty when uniform

  /// Time of stored sample `i`, which must exist.
  [[nodiscard]] Seconds time_of_sample(SampleIndex i) const;
  /// The stored sample nearest to `time`, clamped to those there are; 0 when there are none.
  [[nodiscard]] SampleIndex sample_at(Seconds time) const;
};

/// A whole recording in memory.
struct Recording {
  std::vector<Channel> channels;           ///< in file order, time columns not counted
  Seconds duration;                        ///< from the first stored sample to one sample period after the last
  std::optional<std::string> clock_start;  ///< wall-clock of second 0, ISO 8601, when the input has it
  Warnings warnings;
  Provenance provenance;
};

}  // namespace pulsewright
