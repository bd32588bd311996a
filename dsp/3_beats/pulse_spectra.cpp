#include "pulse_spectra.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "pulsewright/rate_track.hpp"

namespace pulsewright::beats_stage {
namespace {

/// Windows that are worked out together.
constexpr std::size_t batch = 16;
static_assert(PulseSpectra::kept % batch == 0);
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
      sines_(highest_line + 1, index(half_)),
      ring_(kept * signals.pulse.size()),
      in_ring_(kept, places.size()) {
  const double middle = 0.5 * static_cast<double>(window_ - 1);
  for (std::size_t i = 0; i < half_; ++i) {
    const double from_middle = static_cast<double>(i) - middle;
    const double hann = 0.5 + 0.5 * std::cos(std::numbers::pi * from_middle / middle);
    for (int bpm = 0; bpm <= highest_line; ++bpm) {
      const double angle = 2.0 * std::numbers::pi * bpm / 60.0 * from_middle / signals.rate.value();
      cosines_(bpm, index(i)) = static_cast<float>(hann * std::cos(angle));
      sines_(bpm, index(i)) = static_cast<float>(hann * std::sin(angle));
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

void PulseSpectra::work_out(std::size_t first_window) {
  const std::size_t last_window = std::min(first_window + batch, places_.size());
  const std::size_t channels = signals_.pulse.size();
  const auto columns = index((last_window - first_window) * channels);
  Eigen::MatrixXf even = Eigen::MatrixXf::Zero(index(half_), columns), odd = even;
  std::vector<bool> readable(static_cast<std::size_t>(columns));
  std::vector<float> values(window_);
  for (std::size_t j = 0; j < readable.size(); ++j) {
    const std::optional<std::size_t> place = places_[first_window + j / channels];
    readable[j] = place && read(signals_.pulse[j % channels], *place, values);
    if (!readable[j]) continue;
    for (std::size_t i = 0; i < half_; ++i) {
      const bool middle = 2 * i + 1 == window_;
      even(index(i), index(j)) = middle ? values[i] : values[i] + values[window_ - 1 - i];
      odd(index(i), index(j)) = values[i] - values[window_ - 1 - i];
    }
  }
  // Sums of some hundred terms are not split for any size of cache, so that they are the same on every machine.
  const Eigen::MatrixXf real = cosines_ * even, imaginary = sines_ * odd;
  for (std::size_t j = 0; j < readable.size(); ++j) {
    const std::size_t window = first_window + j / channels;
    in_ring_[window % kept] = window;
    PulseSpectrum& spectrum = ring_[window % kept * channels + j % channels];
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

std::span<const PulseSpectrum> PulseSpectra::of(std::size_t window) {
  if (in_ring_[window % kept] != window) work_out(window / batch * batch);
  const std::size_t channels = signals_.pulse.size();
  return std::span{ring_}.subspan(window % kept * channels, channels);
}

}  // namespace pulsewright::beats_stage
