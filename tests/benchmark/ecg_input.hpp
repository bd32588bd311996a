/// The recording that every benchmark works on.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <numbers>
#include <string>

#include "pulsewright/read.hpp"

namespace pulsewright::benchmark_input {

namespace detail {

inline constexpr double rate_hz = 360.0;
inline constexpr std::size_t sample_count = 650000;

inline std::filesystem::path data_folder() {
  if (const char* set = std::getenv("PULSEWRIGHT_DATA")) return set;
  return std::filesystem::path{PULSEWRIGHT_SOURCE_DIR}.parent_path() / "shared" / "datasets";
}

/// R and T waves as bells; the interval swings between 0.7 and 0.9 s with the breath.
inline std::vector<float> made_up_beats() {
  std::vector<float> x(sample_count, 0.0F);
  const auto add = [&](double centre, double height, double width) {
    const auto first = static_cast<std::ptrdiff_t>((centre - 5.0 * width) * rate_hz);
    const auto last = static_cast<std::ptrdiff_t>((centre + 5.0 * width) * rate_hz);
    for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(first, 0); i < std::min<std::ptrdiff_t>(last, sample_count); ++i) {
      const double u = (static_cast<double>(i) / rate_hz - centre) / width;
      x[static_cast<std::size_t>(i)] += static_cast<float>(height * std::exp(-0.5 * u * u));
    }
  };
  for (double t = 0.5; t < static_cast<double>(sample_count) / rate_hz;
       t += 0.8 + 0.1 * std::sin(2.0 * std::numbers::pi * 0.25 * t)) {
    add(t, 1.0, 0.012);
    add(t + 0.25, 0.25, 0.05);
  }
  return x;
}

}  // namespace detail

/// Half an hour of ECG at 360 Hz, 650,000 samples, one channel: the first signal of record 100 where the open recordings are (PULSEWRIGHT_DATA or
/// ../shared/datasets), else beats of a fixed shape whose rate wanders. `provenance.input` says which.
inline Recording half_hour_of_ecg() {
  using namespace detail;
  const std::filesystem::path record = data_folder() / "arrhythmia" / "100";
  if (std::filesystem::exists(record.string() + ".hea")) {
    Recording recording = read_recording(record);
    recording.channels.resize(1);
    recording.channels[0].kind = ChannelKind::ecg;
    return recording;
  }
  Recording recording;
  recording.provenance.input = "made-up beats";
  recording.duration = Seconds{static_cast<double>(sample_count) / rate_hz};
  Channel& channel = recording.channels.emplace_back();
  channel.name = "ecg";
  channel.unit = "mV";
  channel.kind = ChannelKind::ecg;
  channel.rate = Hertz{rate_hz};
  channel.samples = made_up_beats();
  return recording;
}

/// When the first argument is `--samples`: writes the samples to the file named by the second, as 32-bit floats for the scipy script, prints what they
/// are, and returns true.
inline bool asked_for_samples(int argc, char** argv) {
  if (argc != 3 || std::string{argv[1]} != "--samples") return false;
  const Recording recording = half_hour_of_ecg();
  const std::vector<float>& samples = recording.channels[0].samples;
  std::ofstream file{argv[2], std::ios::binary};
  file.write(reinterpret_cast<const char*>(samples.data()),
             static_cast<std::streamsize>(samples.size() * sizeof(float)));
  file.close();
  if (!file) {
    std::cerr << "cannot write " << argv[2] << '\n';
    std::exit(3);
  }
  std::cout << recording.provenance.input << ", " << samples.size() << " samples at " << detail::rate_hz << " Hz\n";
  return true;
}

}  // namespace pulsewright::benchmark_input
