#include <fmt/format.h>

#include <array>
#include <cmath>

#include "pulsewright/resting.hpp"

namespace pulsewright {

namespace {

/// Lengths of a count, s (common practice).
constexpr std::array count_lengths_s{10, 15, 20, 30, 60};
/// Beyond these lies a slip of the pen (ours).
constexpr double slowest_bpm = 20.0;
constexpr double fastest_bpm = 250.0;

}  // namespace

CountedResting counted_resting(const RestingCount& count) {
  bool known = false;
  for (const int length : count_lengths_s) known = known || length == count.seconds;
  if (!known)
    throw Error{ErrorCode::usage,
                fmt::format("a pulse count over {} s; it is taken over 10, 15, 20, 30 or 60 s", count.seconds)};
  const double worth = 60.0 / count.seconds;
  const double bpm = worth * count.beats;
  if (!(bpm >= slowest_bpm && bpm <= fastest_bpm))
    throw Error{ErrorCode::usage, fmt::format("{} beats in {} s are {:g} beats/min; a count must give {:g} to {:g}",
                                              count.beats, count.seconds, bpm, slowest_bpm, fastest_bpm)};
  CountedResting counted{BeatsPerMinute{bpm}, BeatsPerMinute{worth}, 0.0, 0.0};
  if (count.start == RestingCountStart::on_a_beat) {
    counted.bias_bpm = -0.5 * worth;
    counted.rms_error_bpm = worth / std::sqrt(3.0);
  } else {
    counted.rms_error_bpm = worth / std::sqrt(6.0);
  }
  return counted;
}

}  // namespace pulsewright
