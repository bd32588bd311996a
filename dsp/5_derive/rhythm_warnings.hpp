/// What is to be said of a rhythm before anything that presumes a regular one.
#pragma once

#include "pulsewright/rhythm.hpp"

namespace pulsewright {

/// `irregular_rhythm` and `early_beats` where a tenth of the windows or more look so, `missed_pulses` where a twentieth of the
/// intervals of a pulse hold a missed beat and the rhythm is not regular.
void warn_of_rhythm(const Rhythm& rhythm, Warnings& warnings);

}  // namespace pulsewright
