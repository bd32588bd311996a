/// Waves for a sound card.
#pragma once

#include <span>
#include <string>

#include "pulsewright/units.hpp"

namespace pulsewright::program {

/// The bytes of a WAV file of one channel, 16 bits, `full_scale` being the value at which it is full; what is larger is cut off. Throws Error{contract} when the library that writes it
/// refuses.
[[nodiscard]] std::string wav_bytes(std::span<const float> samples, Hertz rate, double full_scale);

}  // namespace pulsewright::program
