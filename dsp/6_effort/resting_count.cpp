#include <fmt/format.h>

#include <array>
#include <cmath>

#include "pulsewright/resting.hpp"

namespace pulsewright {

namespace {

/// Lengths of a count, s (common practice).
constexpr std::array count_lengths_s{10.0, 15.0, 20.0, 30.0, 60.0};
/// Beyond these lies a slip of the pen (ours).
constexpr double slowest_bpm = 20.0;
constexpr double fastest_bpm = 250.0;

}  // namespace

CountedResting counted_resting(const RestingCount& count) {
  bool known = false;
  for (const double length : count_lengths_s) known = known || length == count.length.value();
  if (!known)
    throw Error{ErrorCode::usage, fmt::format("a pulse count over {:g} s; it is taken over 10, 15, 20, 30 or 60 s",
                                              count.length.value())};
  const double worth = 60.0 / count.length.value();
  const double bpm = worth * count.beats;
  if (!(bpm >= slowest_bpm && bpm <= fastest_bpm))
    throw Error{ErrorCode::usage, fmt::format("{} beats in {:g} s are {:g} beats/min; a count must give {:g} to {:g}",
                                              count.beats, count.length.value(), bpm, slowest_bpm, fastest_bpm)};
  CountedResting counted{BeatsPerMinute{bpm}, BeatsPerMinute{worth}, 0.0, 0.0};
  if (count.start == CountStart::on_a_beat) {
    counted.bias_bpm = -0.5 * worth;
    counted.rms_error_bpm = worth / std::sqrt(3.0);
  } else {
    counted.rms_error_bpm = worth / std::sqrt(6.0);
  }
  return counted;
}

}  // namespace pulsewright
