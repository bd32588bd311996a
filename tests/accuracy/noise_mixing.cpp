#include "noise_mixing.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "pulsewright/read.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

// A QRS complex lies within this of its mark.
constexpr Seconds qrs_reach{0.050};

// Mean and variance of a noise.
std::pair<double, double> moments(const std::vector<float>& values) {
  double sum = 0, squares = 0;
  for (const float v : values) sum += static_cast<double>(v);
  const double mean = sum / static_cast<double>(values.size());
  for (const float v : values) squares += (static_cast<double>(v) - mean) * (static_cast<double>(v) - mean);
  return {mean, squares / static_cast<double>(values.size())};
}

std::vector<float> first_signal(const std::filesystem::path& record) {
  ReadOptions reading;
  reading.hash = false;
  return read_recording(record, reading).channels[0].samples;
}

}  // namespace

double qrs_power(const Channel& channel, const BeatTrain& beats) {
  const auto reach = static_cast<std::ptrdiff_t>(std::lround(samples_in(qrs_reach, channel.rate)));
  const auto size = static_cast<std::ptrdiff_t>(channel.samples.size());
  std::vector<double> heights;
  heights.reserve(beats.candidates.size());
  for (const Beat& beat : beats.candidates) {
    const auto at = static_cast<std::ptrdiff_t>(channel.sample_at(beat.time).value());
    if (at < reach || at + reach >= size) continue;
    const auto [low, high] =
        std::minmax_element(channel.samples.begin() + (at - reach), channel.samples.begin() + (at + reach + 1));
    heights.push_back(static_cast<double>(*high) - static_cast<double>(*low));
  }
  const auto middle = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
  std::nth_element(heights.begin(), middle, heights.end());
  return *middle * *middle / 8.0;
}

void mix(Recording& recording, const std::vector<float>& noise, std::size_t start, double power, double snr_db) {
  const auto [mean, variance] = moments(noise);
  const double gain = std::sqrt(power / (variance * std::pow(10.0, snr_db / 10.0)));
  std::vector<float>& samples = recording.channels[0].samples;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double added = gain * (static_cast<double>(noise[(start + i) % noise.size()]) - mean);
    samples[i] = static_cast<float>(static_cast<double>(samples[i]) + added);
  }
}

std::vector<float> noise_of(const std::filesystem::path& data, const char* name) {
  return first_signal(data / "noise_stress" / name);
}

std::vector<float> electrode_motion(const std::filesystem::path& data) {
  const std::vector<float> stressed = noise_of(data, "118e00");
  const std::vector<float> clean = first_signal(data / "arrhythmia" / "118");
  constexpr double rate_hz = 360.0;
  std::vector<float> noise;
  for (std::size_t i = 0; i < std::min(stressed.size(), clean.size()); ++i) {
    const double into = static_cast<double>(i) / rate_hz - first_noise_s;
    if (into >= 0 && std::fmod(into, 2 * turn_s) < turn_s) noise.push_back(stressed[i] - clean[i]);
  }
  return noise;
}

}  // namespace accuracy
