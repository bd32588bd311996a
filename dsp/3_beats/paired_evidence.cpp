#include "paired_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pulsewright::beats_stage {
namespace {

// Set on the odd treadmill recordings without their acceleration (both channels together, each alone, from 80 s on), the development recordings of the wrist without motion
// channels, recordings at rest (the development ones of CapnoBase and BIDMC), and made-up pulses of 36 to 130 beats/min. The error is flat around these values.
/// Spectra are looked at from here to there.
constexpr int lowest_line = 24, highest_line = 420;
/// Log-likelihood: - `sharpness` log(share of the energy not explained + `never_explained`).
constexpr float sharpness = 6.0F;
constexpr float never_explained = 0.02F;
/// Harmonics of a heart without a stride beside it, and of one whose weaker lines drown.
constexpr int harmonics_alone = 5, harmonics_beside = 2;
/// A heart's first line is its strongest: log(share of the first + `least_first_share`) counts so much.
constexpr float first_line_alone = 1.5F, first_line_beside = 0.7F;
constexpr float least_first_share = 0.035F;
/// Where the heart is alone, a part of what lies around its lines counts with them, because a heart at rest varies within a window.
constexpr float width_share = 0.17F;
constexpr int line_reach = 14;
constexpr int stride_harmonics = 7;
/// Of noise, a line of a stride explains this share at most times, as a log; less is no evidence of a stride.
constexpr float cost_of_line = 0.08F;
/// The lobe of a line is taken off this far to either side: its width between zeros is 30 beats/min.
constexpr int lobe_reach = 18;
/// A heart's line so close to a stride's that less than this share of it is independent of that is not made stronger.
constexpr float least_independent = 0.14F;
/// Channels are not independent: more than this many count as this many.
constexpr float most_channels = 2.0F;
/// A window with more missing samples than this share is not read.
constexpr double most_missing = 0.5;
constexpr float least_energy = 1e-20F;
/// Share of the power at twice the rate that counts for the rate when the stride is known.
constexpr float harmonic_share = 0.4F;

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }
Eigen::Index index(int i) { return i; }

double stride_of(std::size_t column) { return lowest_stride + stride_step * static_cast<double>(column - 1); }

/// A value for each rate of the grid, and rests that are not read: a multiple of four is worked on in fours to the end, with the same bytes on every machine.
constexpr int padded_size = (static_cast<int>(grid_size) + 3) / 4 * 4;
using OnGrid = Eigen::Array<float, padded_size, 1>;

/// Log-likelihood of each heart rate whose lines have this power; `explained` is the share of the energy that a stride explains.
OnGrid log_likelihood_of(const Eigen::ArrayXf& power, int harmonics, float energy, float explained, float first_line) {
  constexpr int lowest = static_cast<int>(lowest_bpm);
  const OnGrid first = power.segment<padded_size>(lowest);
  OnGrid lines = first;
  for (int m = 2; m <= harmonics; ++m) {
    for (int i = 0; i < padded_size && m * (lowest + i) <= highest_line; ++i) lines(i) += power(m * (lowest + i));
  }
  const OnGrid share = first / lines.max(least_energy) + least_first_share;
  const OnGrid left = (1.0F - explained - lines / energy).max(0.0F) + never_explained;
  return first_line * share.log() - sharpness * left.log();
}

}  // namespace

PairedView::PairedView(const RateSignals& signals)
    : signals_(signals),
      window_(static_cast<std::size_t>(std::lround(samples_in(track_window, signals.rate)))),
      cosines_(index(highest_line + 1), index(window_)),
      sines_(index(highest_line + 1), index(window_)),
      lobe_(index(lobe_reach + 1)) {
  const double middle = 0.5 * static_cast<double>(window_ - 1);
  Eigen::ArrayXd hann(index(window_));
  for (std::size_t i = 0; i < window_; ++i)
    hann(index(i)) = 0.5 + 0.5 * std::cos(std::numbers::pi * (static_cast<double>(i) - middle) / middle);
  for (int bpm = 0; bpm <= highest_line; ++bpm) {
    for (std::size_t i = 0; i < window_; ++i) {
      const double angle =
          2.0 * std::numbers::pi * bpm / 60.0 * (static_cast<double>(i) - middle) / signals.rate.value();
      cosines_(bpm, index(i)) = static_cast<float>(hann(index(i)) * std::cos(angle));
      sines_(bpm, index(i)) = static_cast<float>(hann(index(i)) * std::sin(angle));
    }
  }
  for (int away = 0; away <= lobe_reach; ++away) lobe_(away) = cosines_.row(away).sum() / cosines_.row(0).sum();
  line_width_ = 2.0F * lobe_.square().sum() - 1.0F;
}

void PairedView::look(std::size_t first) {
  channels_.clear();
  if (first + window_ > signals_.size()) return;
  for (const std::vector<float>& pulse : signals_.pulse) {
    Eigen::VectorXf values = Eigen::Map<const Eigen::VectorXf>(pulse.data() + first, index(window_));
    const auto missing = static_cast<double>(values.array().isNaN().count());
    if (missing > most_missing * static_cast<double>(window_)) continue;
    values = values.array().isNaN().select(0.0F, values);
    values.array() -= values.mean();
    Spectrum channel{cosines_ * values, sines_ * values, {}, 0};
    channel.power = channel.real.square() + channel.imaginary.square();
    channel.power.head(lowest_line).setZero();
    // Slow motion is strong: power counts in proportion to frequency.
    channel.power *= Eigen::ArrayXf::LinSpaced(highest_line + 1, 0.0F, static_cast<float>(highest_line));
    channel.energy = channel.power.sum() / line_width_;
    if (channel.energy > least_energy) channels_.push_back(std::move(channel));
  }
}

float PairedView::without_stride(const Spectrum& channel, std::size_t column, Power& left) const {
  // Lobes of two lines of a stride do not meet.
  static_assert(2 * lobe_reach < lowest_stride);
  left = channel.power;
  if (column == 0) return 0.0F;
  const int stride = static_cast<int>(stride_of(column));
  float explained = 0.0F;
  for (int line = stride; line < highest_line && line <= stride_harmonics * stride; line += stride) {
    explained += channel.power(line);
    for (int bpm = std::max(line - lobe_reach, lowest_line); bpm <= std::min(line + lobe_reach, highest_line); ++bpm) {
      const float part = lobe_(std::abs(bpm - line));
      const float real = channel.real(bpm) - part * channel.real(line);
      const float imaginary = channel.imaginary(bpm) - part * channel.imaginary(line);
      const float independent = std::max(1.0F - part * part, least_independent);
      left(bpm) = static_cast<float>(bpm) * (real * real + imaginary * imaginary) / independent;
    }
  }
  return explained / channel.energy;
}

void PairedView::weigh(Pairs& log_likelihood) {
  constexpr auto size = static_cast<Eigen::Index>(grid_size);
  log_likelihood.setZero();
  Power power;
  for (const Spectrum& channel : channels_) {
    power = channel.power;
    for (int bpm = lowest_line; bpm <= highest_line; ++bpm) {
      const int from = std::max(bpm - line_reach, lowest_line), to = std::min(bpm + line_reach, highest_line);
      const float around = channel.power.segment(from, to - from + 1).sum() / line_width_;
      power(bpm) += width_share * std::max(around - channel.power(bpm), 0.0F);
    }
    log_likelihood.col(0) +=
        log_likelihood_of(power, harmonics_alone, channel.energy, 0.0F, first_line_alone).head(size);
    for (std::size_t column = 1; column < pair_columns; ++column) {
      const float explained = without_stride(channel, column, power);
      const double lines = std::min<double>(stride_harmonics, std::ceil(highest_line / stride_of(column)) - 1.0);
      log_likelihood.col(index(column)) +=
          log_likelihood_of(power, harmonics_beside, channel.energy, explained, first_line_beside).head(size) -
          sharpness * cost_of_line * static_cast<float>(lines);
    }
  }
  const auto count = static_cast<float>(channels_.size());
  if (count > most_channels) log_likelihood *= most_channels / count;
}

RateWeights PairedView::weights(std::size_t column) const {
  RateWeights sum{};
  Power left;
  for (const Spectrum& channel : channels_) {
    without_stride(channel, column, left);
    RateWeights weights{};
    for (std::size_t i = 0; i < grid_size; ++i) {
      const auto bpm = static_cast<Eigen::Index>(grid_bpm(i));
      weights[i] = left(bpm) / static_cast<float>(bpm);
      if (2 * bpm <= highest_line) weights[i] += harmonic_share * left(2 * bpm) / static_cast<float>(2 * bpm);
    }
    const float most = *std::max_element(weights.begin(), weights.end());
    for (std::size_t i = 0; i < grid_size; ++i) sum[i] += weights[i] / std::max(most, least_energy);
  }
  const float most = *std::max_element(sum.begin(), sum.end());
  for (float& w : sum) w = most > 0.0F ? w / most : 1.0F;
  return sum;
}

}  // namespace pulsewright::beats_stage
