#include "noise_floor.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "offset_line.hpp"
#include "pulsewright/spectrum.hpp"

namespace pulsewright {
namespace {

constexpr double stretch_s = 4.0;
constexpr double lowest_rate_hz = 16.0;
/// More stretches tell no more.
constexpr std::size_t most_stretches = 200;
/// The power of white noise at one bin is exponentially distributed: its median is ln 2 of its mean.
constexpr double median_of_exponential = std::numbers::ln2;
/// Mean square of a Hann window.
constexpr double hann_mean_square = 3.0 / 8;

bool all_there(std::span<const float> values) {
  return std::none_of(values.begin(), values.end(), [](float v) { return std::isnan(v); });
}

/// Below this a wave has power of its own, which hides a line.
double top_of_wave(ChannelKind kind) { return kind == ChannelKind::pulse ? 12.0 : 40.0; }

}  // namespace

Hertz folded(Hertz frequency, Hertz rate) {
  const double turns = std::round(frequency / rate);
  return Hertz{std::abs(frequency.value() - turns * rate.value())};
}

std::optional<double> NoiseSpectrum::white_rms(double low_hz, double high_hz) const {
  std::vector<double> inside;
  for (std::size_t b = 0; b < density.size(); ++b) {
    const double f = static_cast<double>(b) * bin_hz;
    if (f >= low_hz && f <= high_hz) inside.push_back(density[b]);
  }
  if (inside.empty()) return std::nullopt;
  return std::sqrt(median_of(std::move(inside)));
}

std::optional<NoiseSpectrum> noise_spectrum(const Channel& channel) {
  if (channel.rate.value() < lowest_rate_hz) return std::nullopt;
  const auto length = static_cast<std::size_t>(std::lround(stretch_s * channel.rate.value()));
  const std::size_t whole = channel.samples.size() / length;
  const std::size_t every = std::max<std::size_t>(1, whole / most_stretches);
  PowerSpectrum transform(length, length + length % 2);
  std::vector<std::vector<double>> powers;
  const std::span<const float> samples(channel.samples);
  for (std::size_t k = 0; k < whole; k += every) {
    const auto stretch = samples.subspan(k * length, length);
    if (!all_there(stretch)) continue;
    const auto power = transform.of(stretch);
    powers.resize(power.size());
    for (std::size_t b = 0; b < power.size(); ++b) powers[b].push_back(power[b]);
  }
  if (powers.empty() || powers.front().size() < 2) return std::nullopt;
  NoiseSpectrum spectrum;
  spectrum.bin_hz = transform.bin_width(channel.rate).value();
  spectrum.bins_per_sample = 1.0 / static_cast<double>(length);
  const double of_white = hann_mean_square * static_cast<double>(length);
  for (std::vector<double>& bin : powers)
    spectrum.density.push_back(median_of(std::move(bin)) / median_of_exponential / of_white);
  return spectrum;
}

std::optional<Hum> find_hum(const NoiseSpectrum& spectrum, const Channel& channel) {
  constexpr double half_line_hz = 0.6, surroundings_hz = 3.0, stands_out = 6.0;
  std::optional<Hum> strongest;
  for (const double mains_hz : {50.0, 60.0}) {
    const Hertz seen = folded(Hertz{mains_hz}, channel.rate);
    const double at = seen.value(), top = 0.5 * channel.rate.value() - half_line_hz;
    if (at > top || at < top_of_wave(channel.kind)) continue;
    double line = 0, peak = 0;
    std::vector<double> around;
    for (std::size_t b = 0; b < spectrum.density.size(); ++b) {
      const double away = std::abs(static_cast<double>(b) * spectrum.bin_hz - at);
      if (away <= half_line_hz) {
        line += spectrum.density[b];
        peak = std::max(peak, spectrum.density[b]);
      } else if (away <= surroundings_hz) {
        around.push_back(spectrum.density[b]);
      }
    }
    if (around.empty()) continue;
    const double background = median_of(std::move(around));
    if (!(peak > stands_out * background)) continue;
    // A steady line has the same power in every stretch, so the median's correction for noise is taken back.
    const double rms = std::sqrt(2 * line * median_of_exponential * spectrum.bins_per_sample);
    if (!strongest || rms > strongest->rms) strongest = Hum{Hertz{mains_hz}, seen, rms};
  }
  return strongest;
}

}  // namespace pulsewright
