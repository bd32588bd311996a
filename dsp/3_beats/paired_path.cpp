#include "paired_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace pulsewright::beats_stage {
namespace {

// Set together with the constants of paired_evidence.cpp.
constexpr StepShape heart_step{.usual_bpm = 2.9, .wide_bpm = 3.0, .wide_share = 0.03};
constexpr double usual_stride_step = 2.5;
/// Beside each other, strides that are more than four steps of the grid apart are jumps.
constexpr std::size_t stride_reach = 4;
/// From one window to the next: a stride becomes any other, ends, or begins.
constexpr float stride_jumps = 0.01F, stride_ends = 0.02F, stride_begins = 0.025F;
constexpr float stride_goes_on = 1.0F - stride_ends;
/// The share of recordings that begin at rest.
constexpr float begins_at_rest = 0.85F;
/// Each window's rate by itself is log-normal: with a stride beside it, and without one.
constexpr double alone_middle_bpm = 80.0, alone_sd_of_log = 0.38;
constexpr double beside_middle_bpm = 97.0, beside_sd_of_log = 0.33;
/// Windows that are visited at a time, and those after them that are looked at for it: eight minutes, and four.
constexpr std::size_t block = 256, look_ahead = 128;
static_assert(block + look_ahead < PulseSpectra::kept);
/// Nothing is impossible, and no product of two probabilities too small for a float.
constexpr float least_probability = 1e-15F;

/// Strides with a smaller share of the probability than this are left alone until they get more: from one window to the next a stride may begin at any rate.
constexpr float least_share = 1e-6F;

constexpr float each_stride = 1.0F / static_cast<float>(stride_count);

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }

double log_normal(double bpm, double middle, double sd) {
  const double z = std::log(bpm / middle) / sd;
  return std::exp(-0.5 * z * z);
}

/// The mean over the rates of each cell.
HeartCells log_normal_cells(double middle, double sd) {
  HeartCells prior = HeartCells::Zero();
  for (std::size_t i = 0; i < rates_a_cell * heart_cells; ++i)
    prior(index(i / rates_a_cell)) += static_cast<float>(log_normal(grid_bpm(i), middle, sd) / rates_a_cell);
  return prior;
}

std::span<float> column_of(Pairs& pairs, std::size_t column) {
  return {pairs.values.col(index(column)).data(), padded_cells};
}

std::span<const float> column_of(const Pairs& pairs, std::size_t column) {
  return {pairs.values.col(index(column)).data(), padded_cells};
}

/// Calls with each column that is possible, from a first one on.
template <typename Call>
void for_each_column(const Pairs& pairs, std::size_t first, const Call& call) {
  for (std::size_t column = first; column < pair_columns; ++column) {
    if (pairs.possible[column]) call(column);
  }
}

/// Before anything is known, all pairs are as likely.
Pairs anything() {
  Pairs pairs;
  pairs.values.setOnes();
  pairs.possible.set();
  return pairs;
}

void normalise(Pairs& pairs) {
  float sum = 0.0F;
  for_each_column(pairs, 0, [&](std::size_t c) { sum += pairs.values.col(index(c)).sum(); });
  for_each_column(pairs, 0, [&](std::size_t c) {
    pairs.values.col(index(c)) = (pairs.values.col(index(c)) / sum).max(least_probability);
  });
}

/// Of probabilities: what is left of the columns that hold next to nothing is nothing.
void leave_faint(Pairs& probabilities) {
  for_each_column(probabilities, 1, [&](std::size_t c) {
    probabilities.possible[c] = probabilities.values.col(index(c)).sum() > least_share;
  });
}

void multiply(Pairs& pairs, const Pairs& by) {
  pairs.possible &= by.possible;
  for_each_column(pairs, 0, [&](std::size_t c) { pairs.values.col(index(c)) *= by.values.col(index(c)); });
}

/// Small steps of the stride: relative to what stays within the grid, so that each column gives all it has.
struct StrideSteps {
  std::array<float, stride_reach + 1> weights{};
  std::array<float, pair_columns> leaving{};  ///< one over the sum of the steps from a column; not for the first
};

const StrideSteps& stride_steps() {
  static const StrideSteps steps = [] {
    StrideSteps made;
    for (std::size_t away = 0; away <= stride_reach; ++away) {
      const double z = stride_step * static_cast<double>(away) / usual_stride_step;
      made.weights[away] = static_cast<float>(std::exp(-0.5 * z * z));
    }
    for (std::size_t from = 1; from < pair_columns; ++from) {
      float sum = 0.0F;
      for (std::size_t to = 1; to < pair_columns; ++to) {
        const std::size_t away = to > from ? to - from : from - to;
        if (away <= stride_reach) sum += made.weights[away];
      }
      made.leaving[from] = 1.0F / sum;
    }
    return made;
  }();
  return steps;
}

/// What comes to a stride from those around it, or goes from it to them.
void add_near_strides(const Pairs& from, std::size_t column, float share, Pairs& to) {
  const StrideSteps& steps = stride_steps();
  for (std::size_t other = std::max<std::size_t>(column, stride_reach + 1) - stride_reach;
       other <= std::min(column + stride_reach, pair_columns - 1); ++other) {
    if (!from.possible[other]) continue;
    const float weight = share * steps.weights[other > column ? other - column : column - other];
    to.values.col(index(column)) += weight * from.values.col(index(other));
  }
}

HeartCells all_strides(const Pairs& pairs) {
  HeartCells sum = HeartCells::Zero();
  for_each_column(pairs, 1, [&](std::size_t c) { sum += pairs.values.col(index(c)); });
  return sum;
}

/// The rates of the grid within the cells, by straight lines between the cells' middles.
void visit_product(std::size_t k, const Pairs& past, const Pairs& ahead, const PairedPath::Visitor& visit) {
  HeartCells cells = HeartCells::Zero();
  std::size_t likeliest = 0;
  float most = 0.0F;
  for_each_column(past, 0, [&](std::size_t c) {
    const HeartCells product = past.values.col(index(c)) * ahead.values.col(index(c));
    cells += product;
    const float sum = product.sum();
    if (sum > most) likeliest = c;
    most = std::max(sum, most);
  });
  cells /= cells.sum();
  std::array<float, grid_size> heart{};
  for (std::size_t i = 0; i < grid_size; ++i) {
    const std::size_t cell = i / rates_a_cell;
    constexpr float width = rates_a_cell;
    const float from_middle = (static_cast<float>(i % rates_a_cell) + 0.5F) / width - 0.5F;
    const std::size_t beside = from_middle < 0.0F ? cell - std::min<std::size_t>(cell, 1) : cell + 1;
    const float share = std::abs(from_middle);
    heart[i] = ((1.0F - share) * cells(index(cell)) + share * cells(index(beside))) / width;
  }
  float sum = 0.0F;
  for (const float h : heart) sum += h;
  for (float& h : heart) h /= sum;
  visit(k, heart, likeliest);
}

}  // namespace

PairedPath::PairedPath() : heart_steps_(heart_step, heart_cells, padded_cells, rates_a_cell * grid_step_bpm) {
  prior_.col(0) = log_normal_cells(alone_middle_bpm, alone_sd_of_log);
  prior_.col(1) = log_normal_cells(beside_middle_bpm, beside_sd_of_log);
  first_.values.setConstant((1.0F - begins_at_rest) * each_stride);
  first_.values.col(0).setConstant(begins_at_rest);
  first_.possible.set();
}

void PairedPath::look(const Evidence& evidence, std::size_t k, Pairs& seen) const {
  evidence(k, seen);
  for_each_column(seen, 0, [&](std::size_t c) { seen.values.col(index(c)) *= prior_.col(c == 0 ? 0 : 1); });
}

void PairedPath::begin(const Pairs& seen, Pairs& begun) const {
  begun = first_;
  multiply(begun, seen);
  normalise(begun);
  leave_faint(begun);
}

void PairedPath::go_on(const Pairs& past, const Pairs& seen, Pairs& next) const {
  Pairs moved;
  moved.possible = past.possible;
  for_each_column(past, 0, [&](std::size_t c) { heart_steps_.forward(column_of(past, c), column_of(moved, c)); });
  const HeartCells moving = all_strides(moved), still = moved.values.col(0);
  const HeartCells anywhere = each_stride * (stride_begins * still + stride_goes_on * stride_jumps * moving);
  for_each_column(moved, 1, [&](std::size_t c) { moved.values.col(index(c)) *= stride_steps().leaving[c]; });
  next.possible = seen.possible;
  next.values.col(0) = (1.0F - stride_begins) * still + stride_ends * moving;
  for_each_column(next, 1, [&](std::size_t c) {
    next.values.col(index(c)) = anywhere;
    add_near_strides(moved, c, stride_goes_on * (1.0F - stride_jumps), next);
  });
  multiply(next, seen);
  normalise(next);
  leave_faint(next);
}

void PairedPath::go_back(Pairs& ahead, const Pairs& seen, const std::bitset<pair_columns>& possible) const {
  multiply(ahead, seen);
  for_each_column(ahead, 0, [&](std::size_t c) { heart_steps_.back(column_of(ahead, c), column_of(ahead, c)); });
  const HeartCells still = ahead.values.col(0);
  const HeartCells anywhere = each_stride * all_strides(ahead);
  Pairs before;
  before.possible = possible;
  before.values.col(0) = (1.0F - stride_begins) * still + stride_begins * anywhere;
  const HeartCells jumping = stride_goes_on * stride_jumps * anywhere + stride_ends * still;
  for_each_column(before, 1, [&](std::size_t c) {
    before.values.col(index(c)) = jumping;
    add_near_strides(ahead, c, stride_goes_on * (1.0F - stride_jumps) * stride_steps().leaving[c], before);
  });
  normalise(before);
  ahead = before;
}

void PairedPath::smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  const std::size_t kept = std::min(block + look_ahead, windows);
  std::vector<Pairs> seen(kept), forward(kept);
  std::size_t reached = 0;
  for (std::size_t first = 0; first < windows; first += block) {
    const std::size_t last = std::min(first + block + look_ahead, windows);
    for (; reached < last; ++reached) {
      Pairs &now = seen[reached % kept], &begun = forward[reached % kept];
      look(evidence, reached, now);
      if (reached == 0) begin(now, begun);
      if (reached > 0) go_on(forward[(reached - 1) % kept], now, begun);
    }
    Pairs ahead = anything();
    for (std::size_t k = last; k-- > first;) {
      if (k < first + block) visit_product(k, forward[k % kept], ahead, visit);
      if (k > first) go_back(ahead, seen[k % kept], forward[(k - 1) % kept].possible);
    }
  }
}

void PairedPath::follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  const Pairs ahead = anything();
  Pairs seen, past, now;
  for (std::size_t k = 0; k < windows; ++k) {
    look(evidence, k, seen);
    if (k == 0) begin(seen, now);
    if (k > 0) go_on(past, seen, now);
    visit_product(k, now, ahead, visit);
    std::swap(past, now);
  }
}

}  // namespace pulsewright::beats_stage
