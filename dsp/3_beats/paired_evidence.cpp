#include "paired_evidence.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Set on the odd treadmill recordings without their acceleration (both channels together, each alone, from 80 s on), the development recordings of the wrist without motion
// channels, recordings at rest (the development ones of CapnoBase and BIDMC), and made-up pulses of 36 to 130 beats/min. The error is flat around these values.
/// Likelihood: (share of the energy not explained + `never_explained`) ^ - `sharpness`.
constexpr int sharpness = 6;
constexpr float never_explained = 0.02F;
/// Harmonics of a heart without a stride beside it, and of one whose weaker lines drown.
constexpr int harmonics_alone = 5, harmonics_beside = 2;
/// A heart's first line is its strongest: (share of the first + `least_first_share`) counts to the power of 3/2 where it is alone, of 0.7, within 2 %, beside a stride.
constexpr float least_first_share = 0.035F;
/// Where the heart is alone, a part of what lies around its lines counts with them, because a heart at rest varies within a window.
constexpr float width_share = 0.17F;
constexpr int line_reach = 14;
constexpr int stride_harmonics = 7;
/// Of noise, a line of a stride explains this share at most times, as a log; less is no evidence of a stride.
constexpr double cost_of_line = 0.08;
/// A heart's line so close to a stride's that less than this share of it is independent of that is not made stronger.
constexpr float least_independent = 0.14F;
/// Channels are not independent: more than this many count as this many.
constexpr float most_channels = 2.0F;
constexpr float least_energy = 1e-20F;
/// Share of the power at twice the rate that counts for the rate when the stride is known.
constexpr float harmonic_share = 0.4F;

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }

double stride_of(std::size_t column) { return lowest_stride + stride_step * static_cast<double>(column - 1); }

/// A value for each rate of the grid, and rests.
using OnGrid = Eigen::Array<float, static_cast<int>(padded_grid_size), 1>;
constexpr int lowest_rate = static_cast<int>(lowest_bpm);
static_assert(harmonics_beside * (lowest_rate + static_cast<int>(padded_grid_size)) <= line_places);

/// To the power of the sharpness.
OnGrid sharpened(const OnGrid& values) {
  static_assert(sharpness == 6);
  const OnGrid cube = values * values * values;
  return cube * cube;
}

/// The mean over the rates of each cell.
HeartCells by_cells(const OnGrid& likelihood) {
  using Strided = Eigen::Map<const HeartCells, 0, Eigen::InnerStride<static_cast<int>(rates_a_cell)>>;
  HeartCells sum = Strided{likelihood.data()};
  for (std::size_t i = 1; i < rates_a_cell; ++i) sum += Strided{likelihood.data() + i};
  return sum / static_cast<float>(rates_a_cell);
}

/// (share of the first + `least_first_share`) of all lines.
OnGrid first_share(const OnGrid& first, const OnGrid& lines) {
  return first / lines.max(least_energy) + least_first_share;
}

OnGrid unexplained(const OnGrid& lines, float energy, float explained) {
  return (1.0F - explained - lines * (1.0F / energy)).max(0.0F) + never_explained;
}

/// Likelihood of each heart rate whose lines have this power, when there is no stride.
HeartCells alone(const Lines& power, float energy) {
  const OnGrid first = power.segment<static_cast<int>(padded_grid_size)>(lowest_rate);
  OnGrid lines = first;
  for (int m = 2; m <= harmonics_alone; ++m) {
    for (int i = 0; m * (lowest_rate + i) <= highest_line && i < lines.size(); ++i)
      lines(i) += power(m * (lowest_rate + i));
  }
  const OnGrid share = first_share(first, lines);
  return by_cells(share * share.sqrt() / sharpened(unexplained(lines, energy, 0.0F)));
}

/// Power in the lines of each heart beside a stride.
OnGrid lines_beside(const Lines& left) {
  using Twice = Eigen::Map<const OnGrid, 0, Eigen::InnerStride<harmonics_beside>>;
  return left.segment<static_cast<int>(padded_grid_size)>(lowest_rate) +
         Twice{left.data() + harmonics_beside * lowest_rate};
}

/// The same of power that a stride has left, which explains a share of the energy.
HeartCells beside(const Lines& left, float energy, float explained) {
  const OnGrid lines = lines_beside(left);
  const OnGrid first = left.segment<static_cast<int>(padded_grid_size)>(lowest_rate);
  const OnGrid root = first_share(first, lines).sqrt();
  return by_cells(root * (0.35F + root * (0.99F - 0.34F * root)) / sharpened(unexplained(lines, energy, explained)));
}

/// Calls with each line of a stride.
template <typename Call>
void for_each_line(std::size_t column, const Call& call) {
  const int stride = static_cast<int>(stride_of(column));
  for (int line = stride; line < highest_line && line <= stride_harmonics * stride; line += stride) call(line);
}

/// What a stride has to explain before it is worth more than noise, as a factor of the likelihood.
const std::array<float, pair_columns>& costs_of_stride() {
  static const auto costs = [] {
    std::array<float, pair_columns> made{1.0F};
    for (std::size_t column = 1; column < pair_columns; ++column) {
      double cost = 0.0;
      for_each_line(column, [&](int) { cost += sharpness * cost_of_line; });
      made[column] = static_cast<float>(std::exp(-cost));
    }
    return made;
  }();
  return costs;
}

/// Power of the line near a rate that is known to a few beats/min.
float line_near(const PulseSpectrum& channel, double bpm) {
  constexpr int reach = 2;
  return channel.power.segment<2 * reach + 1>(static_cast<Eigen::Index>(std::lround(bpm)) - reach).maxCoeff();
}

}  // namespace

PairedView::PairedView(PulseSpectra& spectra)
    : spectra_(spectra), independent_((1.0F - spectra.lobe().square()).max(least_independent).inverse()) {}

bool PairedView::readable(std::size_t window) {
  const auto channels = spectra_.of(window);
  return std::any_of(channels.begin(), channels.end(), [](const PulseSpectrum& c) { return c.energy > 0.0F; });
}

float PairedView::without_stride(const PulseSpectrum& channel, std::size_t column, Lines& left) const {
  // Lobes of two lines of a stride do not meet.
  static_assert(2 * lobe_reach < lowest_stride);
  left = channel.power;
  if (column == 0) return 0.0F;
  const Lobe& lobe = spectra_.lobe();
  float explained = 0.0F;
  for_each_line(column, [&](int line) {
    explained += channel.power(line);
    const int from = line - lobe_reach;
    const Lobe real = channel.real.segment<lobe_width>(from) - lobe * channel.real(line);
    const Lobe imaginary = channel.imaginary.segment<lobe_width>(from) - lobe * channel.imaginary(line);
    left.segment<lobe_width>(from) = Lobe::LinSpaced(static_cast<float>(from), static_cast<float>(line + lobe_reach)) *
                                     (real.square() + imaginary.square()) * independent_;
  });
  left.head<lowest_line>().setZero();
  left.tail<line_places - highest_line - 1>().setZero();
  return explained / channel.energy;
}

void PairedView::weigh(std::size_t window, Pairs& likelihood) {
  const auto channels = spectra_.of(window);
  const auto read = static_cast<float>(
      std::count_if(channels.begin(), channels.end(), [](const auto& c) { return c.energy > 0.0F; }));
  const auto weighted = [&](const HeartCells& one) -> HeartCells {
    return read > most_channels ? (most_channels / read * one.log()).exp() : one;
  };
  Lines power;
  HeartCells still = HeartCells::Ones();
  for (const PulseSpectrum& channel : channels) {
    if (!(channel.energy > 0.0F)) continue;
    power = channel.power;
    for (int bpm = lowest_line; bpm <= highest_line; ++bpm) {
      const int from = std::max(bpm - line_reach, lowest_line), to = std::min(bpm + line_reach, highest_line);
      const float around = channel.power.segment(from, to - from + 1).sum() / spectra_.line_width();
      power(bpm) += width_share * std::max(around - channel.power(bpm), 0.0F);
    }
    still *= weighted(alone(power, channel.energy));
  }
  likelihood.values.col(0) = still;
  likelihood.possible.set();
  for (std::size_t column = 1; column < pair_columns; ++column) {
    HeartCells product = HeartCells::Ones();
    for (const PulseSpectrum& channel : channels) {
      if (!(channel.energy > 0.0F)) continue;
      const float explained = without_stride(channel, column, power);
      product *= weighted(costs_of_stride()[column] * beside(power, channel.energy, explained));
    }
    likelihood.values.col(index(column)) = product;
  }
}

RateWeights PairedView::weights(std::size_t window, std::size_t column) {
  RateWeights sum{};
  Lines left;
  for (const PulseSpectrum& channel : spectra_.of(window)) {
    if (!(channel.energy > 0.0F)) continue;
    without_stride(channel, column, left);
    RateWeights weights{};
    for (std::size_t i = 0; i < grid_size; ++i) {
      const auto bpm = lowest_rate + static_cast<Eigen::Index>(i);
      weights[i] = left(bpm) / static_cast<float>(bpm) + harmonic_share * left(2 * bpm) / static_cast<float>(2 * bpm);
    }
    const float most = *std::max_element(weights.begin(), weights.end());
    for (std::size_t i = 0; i < grid_size; ++i) sum[i] += weights[i] / std::max(most, least_energy);
  }
  const float most = *std::max_element(sum.begin(), sum.end());
  for (float& w : sum) w = most > 0.0F ? w / most : 1.0F;
  return sum;
}

RateLines PairedView::lines(std::size_t window, double bpm) {
  RateLines sum;
  float count = 0.0F;
  for (const PulseSpectrum& channel : spectra_.of(window)) {
    if (!(channel.energy > 0.0F)) continue;
    const float share = 1.0F / channel.energy;
    sum += {share * line_near(channel, bpm),
            share * (line_near(channel, 2.0 * bpm) + (3.0 * bpm < highest_line ? line_near(channel, 3.0 * bpm) : 0.0F)),
            share * (line_near(channel, 0.5 * bpm) + line_near(channel, 1.5 * bpm))};
    count += 1.0F;
  }
  if (count > 0.0F) sum = {sum.first / count, sum.overtones / count, sum.between / count};
  return sum;
}

}  // namespace pulsewright::beats_stage
