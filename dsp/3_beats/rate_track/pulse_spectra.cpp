#include "pulse_spectra.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "elementary/elementary.hpp"
#include "pulsewright/rate_track.hpp"

namespace pulsewright::beats_stage {
namespace {

/// Windows that are worked out together.
constexpr std::size_t batch = 16;
/// A window with more missing samples than this share is not read.
constexpr double most_missing = 0.5;
constexpr float least_energy = 1e-20F;

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }

}  // namespace

PulseSpectra::PulseSpectra(const RateSignals& signals, const WindowPlaces& places)
    : signals_(signals),
      places_(places),
      window_(static_cast<std::size_t>(std::lround(samples_in(track_window, signals.rate)))),
      half_((window_ + 1) / 2),
      cosines_(highest_line + 1, index(half_)),
      sines_(highest_line + 1, index(half_)) {
  const double middle = 0.5 * static_cast<double>(window_ - 1);
  for (std::size_t i = 0; i < half_; ++i) {
    const double from_middle = static_cast<double>(i) - middle;
    const double hann = 0.5 + 0.5 * elementary::cos(std::numbers::pi * from_middle / middle);
    for (int bpm = 0; bpm <= highest_line; ++bpm) {
      const double angle = 2.0 * std::numbers::pi * bpm / 60.0 * from_middle / signals.rate.value();
      cosines_(bpm, index(i)) = static_cast<float>(hann * elementary::cos(angle));
      sines_(bpm, index(i)) = static_cast<float>(hann * elementary::sin(angle));
    }
  }
  Eigen::VectorXf once = Eigen::VectorXf::Constant(index(half_), 2.0F);
  if (window_ % 2 == 1) once(index(half_) - 1) = 1.0F;
  const Eigen::VectorXf window_function = cosines_.topRows(lobe_reach + 1) * once;
  for (int i = 0; i < lobe_width; ++i) lobe_(i) = window_function(std::abs(i - lobe_reach)) / window_function(0);
  line_width_ = lobe_.square().sum();
}

bool PulseSpectra::read(std::span<const float> pulse, std::size_t first, std::span<float> values) const {
  std::size_t missing = 0;
  float sum = 0.0F;
  for (std::size_t i = 0; i < window_; ++i) {
    const float v = pulse[first + i];
    missing += std::isnan(v) ? 1 : 0;
    values[i] = std::isnan(v) ? 0.0F : v;
    sum += values[i];
  }
  for (float& v : values) v -= sum / static_cast<float>(window_);
  return static_cast<double>(missing) <= most_missing * static_cast<double>(window_);
}

void PulseSpectra::work_out(std::size_t first, std::span<PulseSpectrum> spectra) const {
  const std::size_t together = batch * channels();
  for (; !spectra.empty(); first += batch) {
    const std::size_t count = std::min(together, spectra.size());
    work_out_together(first, spectra.first(count));
    spectra = spectra.subspan(count);
  }
}

void PulseSpectra::work_out_together(std::size_t first, std::span<PulseSpectrum> spectra) const {
  const std::size_t count = spectra.size();
  Eigen::MatrixXf even = Eigen::MatrixXf::Zero(index(half_), index(count)), odd = even;
  std::vector<bool> readable(count);
  std::vector<float> values(window_);
  for (std::size_t j = 0; j < count; ++j) {
    const std::optional<std::size_t> place = places_[first + j / channels()];
    readable[j] = place && read(signals_.pulse[j % channels()], *place, values);
    if (!readable[j]) continue;
    for (std::size_t i = 0; i < half_; ++i) {
      const bool middle = 2 * i + 1 == window_;
      even(index(i), index(j)) = middle ? values[i] : values[i] + values[window_ - 1 - i];
      odd(index(i), index(j)) = values[i] - values[window_ - 1 - i];
    }
  }
  // Sums of some hundred terms are not split for any size of cache, so that they are the same on every machine.
  const Eigen::MatrixXf real = cosines_ * even, imaginary = sines_ * odd;
  for (std::size_t j = 0; j < count; ++j) {
    PulseSpectrum& spectrum = spectra[j];
    constexpr int size = highest_line + 1;
    spectrum.real.setZero();
    spectrum.imaginary.setZero();
    spectrum.real.head<size>() = real.col(index(j)).array();
    spectrum.imaginary.head<size>() = imaginary.col(index(j)).array();
    spectrum.power = spectrum.real.square() + spectrum.imaginary.square();
    spectrum.power.head<lowest_line>().setZero();
    spectrum.power *= Lines::LinSpaced(0.0F, static_cast<float>(line_places - 1));
    spectrum.energy = spectrum.power.sum() / line_width_;
    if (!readable[j] || !(spectrum.energy > least_energy)) spectrum.energy = 0.0F;
  }
}

}  // namespace pulsewright::beats_stage
