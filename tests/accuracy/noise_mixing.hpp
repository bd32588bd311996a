/// Noise added to an ECG at a stated signal-to-noise ratio.
#pragma once

#include <cstddef>
#include <filesystem>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/recording.hpp"

namespace accuracy {

/// The power of a sine as high from peak to peak as the median QRS complex (50 ms to either side of the marks), in the square of the signal's unit.
[[nodiscard]] double qrs_power(const pulsewright::Channel& channel, const pulsewright::BeatTrain& beats);

/// Adds a noise, less its mean, to the whole first signal, from its sample `start` on and round its end. The ratio is 10 log10(power / variance of the whole noise added).
void mix(pulsewright::Recording& recording, const std::vector<float>& noise, std::size_t start, double power,
         double snr_db);

/// First signal of a noise of the Noise Stress Test Database: "bw" (baseline wander) or "ma" (muscle).
[[nodiscard]] std::vector<float> noise_of(const std::filesystem::path& data, const char* name);

/// Electrode motion, which comes only inside the stress records: what 118e00 has more than record 118 in its noisy stretches, first signal.
[[nodiscard]] std::vector<float> electrode_motion(const std::filesystem::path& data);

/// Noisy stretches of the stress records begin here, and are as long as the quiet ones between them (Moody et al. 1984; the data sets' own description).
inline constexpr double first_noise_s = 300.0;
inline constexpr double turn_s = 120.0;

}  // namespace accuracy
