/// WAV files, as a sound card plays and records them.
#pragma once

#include <filesystem>
#include <span>
#include <string>

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright::program {

/// The bytes of a WAV file of one channel, 16 bits, `full_scale` being the value at which it is full; what is larger is cut off. Throws Error{contract} when the library that writes it
/// refuses.
[[nodiscard]] std::string wav_bytes(std::span<const float> samples, Hertz rate, double full_scale);

/// All channels of a sound file, full scale being 1, without a unit and of kind `ecg`. Rates above 1000 Hz are brought down to between 1000 and 2000 by means over whole numbers of samples. Throws
/// Error{unreadable} for what is no sound file, or holds no samples.
[[nodiscard]] Recording read_wav(const std::filesystem::path& path);

}  // namespace pulsewright::program
