/// Beat times by integral pulse frequency modulation, with early beats put in.
#pragma once

#include <vector>

#include "timeline.hpp"

namespace pulsewright::simulation {

/// A contraction of the ventricles, at the centre of its R wave, in true time.
struct Contraction {
  double time = 0;
  BeatLabel label = BeatLabel::normal;
  double interval = 0;  ///< since the one before
  double usual = 0;     ///< interval of the rate course here
};

/// Contractions from the start to the end of the timeline. A sinus beat comes whenever the integral of the modulated rate has grown by one. A
/// ventricular beat takes the place of a sinus beat, whose successor keeps its time (full compensatory pause); a supraventricular beat
/// starts the integral again.
[[nodiscard]] std::vector<Contraction> beat_times(const Timeline& timeline, const EarlyBeats& early,
                                                  std::uint64_t seed);

}  // namespace pulsewright::simulation
