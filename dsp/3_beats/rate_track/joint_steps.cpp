#include "joint_steps.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

using Four = SimdLanes::Four;

// Set together with the constants of paired_evidence.cpp.
/// A heart's usual step is the sum of eight half cells up or down by chance, every fifth time of ten: an SD of sqrt (8.4 / 4) cells, 2.9 beats/min.
constexpr std::size_t half_steps = 8, most_half_steps = 10, step_reach = most_half_steps / 2;
static_assert(most_half_steps == half_steps + 2);  // one cell farther
constexpr float with_most = 0.2F;
/// The share of wide steps, and their scale: they are double exponential.
constexpr double wide_share = 0.025, wide_bpm = 3.0;
/// Steps of more cells than this, 24 beats/min, do not happen.
constexpr std::size_t widest = 12;
/// Beside each other, strides that are more than four steps of the grid apart are jumps.
constexpr std::size_t stride_reach = SimdLanes::four;
constexpr double usual_stride_step = 2.5;
/// From one window to the next: a stride becomes any other, ends, or begins.
constexpr float stride_jumps = 0.01F, stride_ends = 0.02F, stride_begins = 0.025F;
constexpr float stride_goes_on = 1.0F - stride_ends;
constexpr float each_stride = 1.0F / static_cast<float>(stride_count);

/// Of wide steps, the weight of each cell over that of the one before, that of staying, and what has faded beyond the widest.
struct WideSteps {
  float fading, staying, beyond;
};

WideSteps wide_steps() {
  const double fading = elementary::exp(-static_cast<double>(rates_a_cell) * grid_step_bpm / wide_bpm);
  return {static_cast<float>(fading), static_cast<float>(wide_share * (1.0 - fading) / (1.0 + fading)),
          static_cast<float>(elementary::pow(fading, widest + 1))};
}

/// Makes the rows and keeps what wide steps bring to each from those above it. All columns at once, because each row waits for the one above it.
template <typename MakeRow>
void from_above(const MakeRow& make_row, const WideSteps& wide, JointStates& pairs, JointStates& far) {
  JointRow above{};
  for (std::size_t cell = padded_cells; cell-- > 0;) {
    for (std::size_t four = 0; four < stride_fours; ++four) {
      const Four here = make_row(cell, four);
      pairs.rows[cell][four] = here;
      far.rows[cell][four] = above[four];
      above[four] = (above[four] + here) * wide.fading;
      if (cell + widest < padded_cells) above[four] -= pairs.rows[cell + widest][four] * wide.beyond;
    }
  }
}

/// One of the ways that a number of half steps can go.
constexpr float way(std::size_t steps) { return 1.0F / static_cast<float>(1U << steps); }

/// Steps of the heart in four columns; `far` has what comes from above and is used up.
void spread(JointStates& pairs, std::size_t four, const WideSteps& wide, JointStates& far) {
  constexpr float usual = static_cast<float>(1.0 - wide_share);
  constexpr std::size_t passed_cells = 16;  // a power of two
  static_assert(passed_cells > widest + 1);
  std::array<Four, passed_cells> passed{};
  Four below{};
  std::array<Four, most_half_steps> last{};
  Four fewer{};
  // Each half step adds a cell and the one before it, so that the sum is `step_reach` cells late.
  const auto sum_with = [&](Four value) {
    Four eight{};
    for (std::size_t i = 0; i < most_half_steps; ++i) {
      if (i == half_steps) eight = value;
      const Four sum = value + last[i];
      last[i] = value;
      value = sum;
    }
    const Four mean =
        fewer * (usual * (1.0F - with_most) * way(half_steps)) + value * (usual * with_most * way(most_half_steps));
    fewer = eight;
    return mean;
  };
  const auto take = [&](std::size_t cell) {
    const Four here = pairs.rows[cell][four];
    below = below * wide.fading + here - passed[(cell + passed_cells - widest - 1) % passed_cells] * wide.beyond;
    passed[cell % passed_cells] = here;
    far.rows[cell][four] = (far.rows[cell][four] + below) * wide.staying;
    return sum_with(here);
  };
  for (std::size_t cell = 0; cell < step_reach; ++cell) take(cell);
  for (std::size_t cell = step_reach; cell < padded_cells; ++cell) {
    const Four near = take(cell);
    pairs.rows[cell - step_reach][four] = near + far.rows[cell - step_reach][four];
  }
  for (std::size_t cell = padded_cells - step_reach; cell < padded_cells; ++cell)
    pairs.rows[cell][four] = sum_with(Four{}) + far.rows[cell][four];
}

/// Steps of the heart from the rows that are made.
template <typename MakeRow>
void spread(const MakeRow& make_row, JointStates& pairs) {
  static const WideSteps wide = wide_steps();
  JointStates far;
  from_above(make_row, wide, pairs, far);
  for (std::size_t four = 0; four < stride_fours; ++four) spread(pairs, four, wide, far);
}

/// Weights of a stride's small steps, by how far they lead.
const std::array<float, stride_reach + 1>& stride_weights() {
  static const auto weights = [] {
    std::array<float, stride_reach + 1> made{};
    for (std::size_t away = 0; away < made.size(); ++away) {
      const double z = stride_step * static_cast<double>(away) / usual_stride_step;
      made[away] = static_cast<float>(elementary::exp(-0.5 * z * z));
    }
    return made;
  }();
  return weights;
}

/// Takes the probability of no stride out of a row.
float take_still(JointRow& row) {
  const float still = row[0][0];
  row[0][0] = 0.0F;
  return still;
}

/// Sums over the strides around each one of a row, itself included; the row must hold nothing where there is no stride.
JointRow near_strides(const JointRow& row) {
  const auto& weights = stride_weights();
  JointRow sums;
  Four before{}, here = row[0];
  for (std::size_t four = 0; four < stride_fours; ++four) {
    const Four after = four + 1 < stride_fours ? row[four + 1] : Four{};
    const auto one =
        __builtin_shufflevector(before, here, 3, 4, 5, 6) + __builtin_shufflevector(here, after, 1, 2, 3, 4);
    const auto two =
        __builtin_shufflevector(before, here, 2, 3, 4, 5) + __builtin_shufflevector(here, after, 2, 3, 4, 5);
    const auto three =
        __builtin_shufflevector(before, here, 1, 2, 3, 4) + __builtin_shufflevector(here, after, 3, 4, 5, 6);
    sums[four] =
        here * weights[0] + one * weights[1] + two * weights[2] + three * weights[3] + (before + after) * weights[4];
    before = here;
    here = after;
  }
  return sums;
}

/// One over the sum of the steps from each place to those of the grid.
float leaving(float sum) { return sum > 0.0F ? 1.0F / sum : 0.0F; }

}  // namespace

JointSteps::JointSteps() {
  JointRow strides;
  strides.fill(Four{1.0F, 1.0F, 1.0F, 1.0F});
  take_still(strides);
  const JointRow sums = near_strides(strides);
  for (std::size_t column = 1; column < stride_columns; ++column)
    stride_leaving_[column / SimdLanes::four][column % SimdLanes::four] =
        leaving(sums[column / SimdLanes::four][column % SimdLanes::four]);
  JointStates hearts;
  spread(
      [](std::size_t cell, std::size_t) {
        return cell < heart_cells ? Four{1.0F, 0.0F, 0.0F, 0.0F} : Four{};
      },
      hearts);
  for (std::size_t cell = 0; cell < heart_cells; ++cell) heart_leaving_[cell] = leaving(hearts.rows[cell][0][0]);
}

JointRow JointSteps::forward(const JointStates& past, const JointStates& seen, JointStates& next) const {
  spread([&](std::size_t cell, std::size_t four) { return past.rows[cell][four] * heart_leaving_[cell]; }, next);
  constexpr float go_near = stride_goes_on * (1.0F - stride_jumps), go_far = stride_goes_on * stride_jumps;
  JointRow sums{};
  for (std::size_t cell = 0; cell < padded_cells; ++cell) {
    JointRow row = next.rows[cell];
    const float still = take_still(row), moving = sum_of(row);
    const float anywhere = each_stride * (stride_begins * still + go_far * moving);
    for (std::size_t four = 0; four < stride_fours; ++four) row[four] *= stride_leaving_[four];
    row = near_strides(row);
    for (Four& strides : row) strides = strides * go_near + anywhere;
    row[0][0] = (1.0F - stride_begins) * still + stride_ends * moving;
    for (std::size_t four = 0; four < stride_fours; ++four)
      sums[four] += next.rows[cell][four] = row[four] * seen.rows[cell][four];
  }
  return sums;
}

JointRow JointSteps::back(const JointStates& seen, JointStates& ahead) const {
  spread([&](std::size_t cell, std::size_t four) { return ahead.rows[cell][four] * seen.rows[cell][four]; }, ahead);
  constexpr float go_near = stride_goes_on * (1.0F - stride_jumps), go_far = stride_goes_on * stride_jumps;
  JointRow sums{};
  for (std::size_t cell = 0; cell < padded_cells; ++cell) {
    JointRow row = ahead.rows[cell];
    const float still = take_still(row), anywhere = each_stride * sum_of(row);
    const float elsewhere = go_far * anywhere + stride_ends * still;
    row = near_strides(row);
    for (std::size_t four = 0; four < stride_fours; ++four)
      row[four] = row[four] * (stride_leaving_[four] * go_near) + elsewhere;
    row[0][0] = (1.0F - stride_begins) * still + stride_begins * anywhere;
    for (std::size_t four = 0; four < stride_fours; ++four)
      sums[four] += ahead.rows[cell][four] = row[four] * heart_leaving_[cell];
  }
  return sums;
}

}  // namespace pulsewright::beats_stage
