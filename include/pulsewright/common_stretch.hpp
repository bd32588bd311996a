/// What a class is compared over: one stretch of the lesson for everybody; and why somebody cannot be placed.
#pragma once

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// How the recordings of a class were laid over each other.
enum class CommonBasis {
  none,    ///< nothing is common to enough of them
  clock,   ///< by times of day
  course,  ///< by the course of the rate
  start,   ///< all as long as each other, and taken to begin together
  sheet,   ///< the sheet gives everybody a stretch of their own
  marks,   ///< the work between marks
};

[[nodiscard]] const char* to_string(CommonBasis basis);

/// The stretch that a class is compared over.
struct CommonStretch {
  CommonBasis basis = CommonBasis::none;
  /// Of `clock` in seconds of the day, of `course` and `start` in seconds from the start of the recording that began
  /// first; of the others it says nothing.
  Span lesson{};
};

/// Shares and times without which nobody is judged (ours): with a fifth of the time unknown a mean can be off by more
/// than the people of a class differ.
inline constexpr double least_measured_share = 0.80;
inline constexpr Seconds least_measured{60.0};

/// Why a member has no place, the first that holds.
enum class NotPlaced {
  placed,              ///< nothing stands against it
  no_recording,        ///< nothing could be read, or no rate measured
  shared_recording,    ///< the same recording stands under another code
  code_twice,          ///< the code stands on two lines, and either recording may be somebody else's
  rate_hz_doubtful,    ///< the stated sampling rate is contradicted by the others' length and rates
  no_maximum,          ///< neither age nor measured maximum
  implausible_resting, ///< the stated resting rate is none
  no_resting,          ///< without a resting rate there is no reserve
  below_resting,       ///< the recording contradicts the stated resting rate
  no_common_stretch,   ///< the class has nothing in common
  not_located,         ///< where in the lesson the recording lies is not known
  little_measured,     ///< less than `least_measured_share` of the common stretch, or less than `least_measured`
};

[[nodiscard]] const char* to_string(NotPlaced why);

}  // namespace pulsewright
