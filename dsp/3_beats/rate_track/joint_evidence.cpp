#include "joint_evidence.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Set on the odd treadmill recordings without their acceleration (both channels together, each alone, from 80 s on), the development recordings of the wrist without motion
// channels, recordings at rest (the development ones of CapnoBase and BIDMC), and made-up pulses of 36 to 130 beats/min. The error is flat around these values.
/// Likelihood: (share of the energy not explained + `never_explained`) ^ - `sharpness`.
constexpr int sharpness = 6;
constexpr float never_explained = 0.02F;
/// Harmonics of a heart without a stride beside it, and of one whose weaker lines drown.
constexpr int harmonics_alone = 5, harmonics_beside = 2;
/// A heart's first line is its strongest: (share of the first + `least_first_share`) counts to the power of 3/2 where it is alone, of 0.7 beside a stride.
constexpr float least_first_share = 0.035F;
/// Beside a stride, lines of less than this share of the energy are no lines of a heart, whichever of them is the stronger one.
constexpr float least_lines = 1e-3F;
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

double stride_of(std::size_t column) { return lowest_stride + stride_step * static_cast<double>(column - 1); }

/// A value for each rate of the grid, and rests.
using OnGrid = Eigen::Array<float, static_cast<int>(padded_grid_size), 1>;
constexpr int lowest_rate = static_cast<int>(lowest_bpm);
// Four cells at a time are read.
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

/// Power at each line with a part of what lies around it.
Lines with_width(const Lines& power, float line_width) {
  std::array<double, line_places + 1> below{};
  for (int bpm = 0; bpm < line_places; ++bpm) below[bpm + 1] = below[bpm] + static_cast<double>(power(bpm));
  Lines widened = power;
  for (int bpm = lowest_line; bpm <= highest_line; ++bpm) {
    const double around = below[bpm + line_reach + 1] - below[bpm - line_reach];
    widened(bpm) += width_share * std::max(static_cast<float>(around) / line_width - power(bpm), 0.0F);
  }
  return widened;
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

/// Likelihood of each cell of hearts, to a factor, from power that a stride has left, which explains a share of the energy.
HeartCells beside(const Lines& left, float energy, float explained, float factor) {
  static_assert(rates_a_cell == 2 && harmonics_beside == 2 && sharpness == 6);
  HeartCells likelihood;
  const float share = 1.0F / energy;
  for (std::size_t cell = 0; cell < padded_cells; cell += SimdLanes::four) {
    // The slower rates of four cells are in the low lanes, the faster ones in the high lanes.
    const auto bpm = static_cast<std::size_t>(lowest_rate) + rates_a_cell * cell;
    const float* twice = left.data() + 2 * bpm;
    const SimdLanes first = SimdLanes::load_pairs(left.data() + bpm) * share;
    const SimdLanes lines =
        first +
        SimdLanes::apart(SimdLanes::load_pairs(twice).low, SimdLanes::load_pairs(twice + SimdLanes::count).low) * share;
    // The first's share of the lines, plus the least, to the power of 0.7, within 3.1 %: a quotient of polynomials, not divided yet.
    const SimdLanes all = at_least(lines, least_lines), part = first + all * least_first_share;
    const SimdLanes likely = all * (all * 0.0361485F + part * 1.9904193F) + part * part * 1.6694298F;
    const SimdLanes unexplained = at_least((1.0F - explained) - lines, 0.0F) + never_explained;
    const SimdLanes cube = unexplained * unexplained * unexplained;
    const SimdLanes over = all * (all + part * 2.6780278F) * (cube * cube);
    // The mean of both rates, with one division.
    const SimdLanes::Four mean =
        (likely.low * over.high + likely.high * over.low) / (over.low * over.high) * (factor / rates_a_cell);
    std::memcpy(likelihood.data() + cell, &mean, sizeof mean);
  }
  return likelihood;
}

/// Calls with each line of a stride.
template <typename Call>
void for_each_line(std::size_t column, const Call& call) {
  const int stride = static_cast<int>(stride_of(column));
  for (int line = stride; line < highest_line && line <= stride_harmonics * stride; line += stride) call(line);
}

/// What a stride has to explain before it is worth more than noise, as a factor of the likelihood.
const std::array<float, stride_columns>& costs_of_stride() {
  static const auto costs = [] {
    std::array<float, stride_columns> made{1.0F};
    for (std::size_t column = 1; column < stride_columns; ++column) {
      double cost = 0.0;
      for_each_line(column, [&](int) { cost += sharpness * cost_of_line; });
      made[column] = static_cast<float>(elementary::exp(-cost));
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

JointEvidence::JointEvidence(const PulseSpectra& spectra) : line_width_(spectra.line_width()) {
  for (int i = 0; i < static_cast<int>(lobe_.size()); ++i) {
    lobe_[i] = i < lobe_width ? spectra.lobe()(i) : 0.0F;
    independent_[i] = 1.0F / std::max(1.0F - lobe_[i] * lobe_[i], least_independent);
    slope_[i] = independent_[i] * static_cast<float>(i - lobe_reach);
  }
}

bool JointEvidence::readable(Window window) {
  return std::any_of(window.begin(), window.end(), [](const PulseSpectrum& c) { return c.energy > 0.0F; });
}

float JointEvidence::without_stride(const PulseSpectrum& channel, std::size_t column, Lines& left) const {
  // Lobes of two lines of a stride do not meet.
  static_assert(2 * lobe_reach < lowest_stride);
  left = channel.power;
  if (column == 0) return 0.0F;
  float explained = 0.0F;
  for_each_line(column, [&](int line) {
    explained += channel.power(line);
    // Beyond the lobe nothing is changed; what the next line's lobe has there comes after.
    const std::size_t from = line - lobe_reach;
    for (std::size_t i = 0; i < lobe_.size(); i += SimdLanes::count) {
      const SimdLanes lobe = SimdLanes::load(&lobe_[i]);
      const SimdLanes real = SimdLanes::load(channel.real.data() + from + i) - lobe * channel.real(line);
      const SimdLanes imaginary = SimdLanes::load(channel.imaginary.data() + from + i) - lobe * channel.imaginary(line);
      const SimdLanes factor =
          SimdLanes::load(&independent_[i]) * static_cast<float>(line) + SimdLanes::load(&slope_[i]);
      ((real * real + imaginary * imaginary) * factor).store(left.data() + from + i);
    }
  });
  left.head<lowest_line>().setZero();
  left.tail<line_places - highest_line - 1>().setZero();
  return explained / channel.energy;
}

void JointEvidence::weigh(Window window, JointStates& likelihood) const {
  const auto read =
      static_cast<float>(std::count_if(window.begin(), window.end(), [](const auto& c) { return c.energy > 0.0F; }));
  const auto weighted = [&](const HeartCells& one) -> HeartCells {
    if (read <= most_channels) return one;
    return one.unaryExpr(
        [power = most_channels / read](float x) { return elementary::exp(power * elementary::log(x)); });
  };
  HeartCells still = HeartCells::Ones();
  for (const PulseSpectrum& channel : window) {
    if (!(channel.energy > 0.0F)) continue;
    still *= weighted(alone(with_width(channel.power, line_width_), channel.energy));
  }
  const auto column_of = [&](std::size_t column) {
    if (column == 0) return still;
    Lines left;
    HeartCells product = HeartCells::Ones();
    for (const PulseSpectrum& channel : window) {
      if (!(channel.energy > 0.0F)) continue;
      const float explained = without_stride(channel, column, left);
      product *= weighted(beside(left, channel.energy, explained, costs_of_stride()[column]));
    }
    return product;
  };
  for (std::size_t four = 0; four < stride_fours; ++four) {
    const std::size_t first = SimdLanes::four * four;
    const std::array<HeartCells, SimdLanes::four> columns{column_of(first), column_of(first + 1), column_of(first + 2),
                                                          column_of(first + 3)};
    for (std::size_t cell = 0; cell < padded_cells; ++cell) {
      const auto i = static_cast<Eigen::Index>(cell);
      likelihood.rows[cell][four] = SimdLanes::Four{columns[0](i), columns[1](i), columns[2](i), columns[3](i)};
    }
  }
}

RateWeights JointEvidence::weights(Window window, std::size_t column) const {
  RateWeights sum{};
  Lines left;
  for (const PulseSpectrum& channel : window) {
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

RateLines JointEvidence::lines(Window window, double bpm) {
  RateLines sum;
  float count = 0.0F;
  for (const PulseSpectrum& channel : window) {
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
