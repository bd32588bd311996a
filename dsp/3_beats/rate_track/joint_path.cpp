#include "joint_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

using Four = SimdLanes::Four;

// Set together with the constants of paired_evidence.cpp.
/// The share of recordings that begin at rest.
constexpr float begins_at_rest = 0.85F;
/// Each window's rate by itself is log-normal: with a stride beside it, and without one.
constexpr double alone_middle_bpm = 80.0, alone_sd_of_log = 0.38;
constexpr double beside_middle_bpm = 97.0, beside_sd_of_log = 0.33;
/// Windows after a stretch that are looked at for it: four minutes.
constexpr std::size_t look_ahead = 128;
static_assert(look_ahead <= JointPath::stretch);
/// Nothing is impossible, and no product of two probabilities too small for a float.
constexpr float least_probability = 1e-15F;

/// Strides with a smaller share of the probability than this are left alone until they get more: from one window to the next a stride may begin at any rate.
constexpr float least_share = 1e-6F;

double log_normal(double bpm, double middle, double sd) {
  const double z = elementary::log(bpm / middle) / sd;
  return elementary::exp(-0.5 * z * z);
}

/// The prior of a row: without a stride in the first column, and with one in all others.
JointRow prior_of(std::size_t cell) {
  float alone = 0.0F, beside = 0.0F;
  for (std::size_t i = rates_a_cell * cell; i < rates_a_cell * (cell + 1) && cell < heart_cells; ++i) {
    alone += static_cast<float>(log_normal(grid_bpm(i), alone_middle_bpm, alone_sd_of_log) / rates_a_cell);
    beside += static_cast<float>(log_normal(grid_bpm(i), beside_middle_bpm, beside_sd_of_log) / rates_a_cell);
  }
  JointRow prior;
  prior.fill(Four{beside, beside, beside, beside});
  prior[0][0] = alone;
  return prior;
}

void multiply(JointRow& row, const JointRow& by) {
  for (std::size_t four = 0; four < stride_fours; ++four) row[four] *= by[four];
}

void add(const JointRow& row, JointRow& sums) {
  for (std::size_t four = 0; four < stride_fours; ++four) sums[four] += row[four];
}

/// Makes the columns that a row of ones and zeros keeps sum to 1, and the others 0.
void normalise(JointStates& pairs, const JointRow& kept, const JointRow& sums) {
  JointRow share = sums;
  multiply(share, kept);
  const float factor = 1.0F / sum_of(share);
  for (JointRow& row : pairs.rows) {
    for (std::size_t four = 0; four < stride_fours; ++four)
      row[four] = SimdLanes::at_least(row[four] * factor, least_probability) * kept[four];
  }
}

/// A row of ones and zeros by column.
template <typename Keep>
JointRow kept_columns(const Keep& keep) {
  JointRow kept;
  for (std::size_t column = 0; column < stride_columns; ++column)
    kept[column / SimdLanes::four][column % SimdLanes::four] = keep(column) ? 1.0F : 0.0F;
  return kept;
}

float at(const JointRow& row, std::size_t column) { return row[column / SimdLanes::four][column % SimdLanes::four]; }

/// Of probabilities to a common factor: what is left of the columns that hold next to nothing is nothing.
void leave_faint(JointStates& pairs, const JointRow& sums) {
  const float least = least_share * sum_of(sums);
  normalise(pairs, kept_columns([&](std::size_t column) { return column == 0 || at(sums, column) > least; }), sums);
}

/// Probabilities of one window -> those of the next, given what it shows.
void go_on(const JointSteps& steps, const JointStates& past, const JointStates& seen, JointStates& next) {
  leave_faint(next, steps.forward(past, seen, next));
}

/// Likelihood of what follows a window -> that of what follows the one before, given what this one shows; for the columns that are possible there.
void go_back(const JointSteps& steps, JointStates& ahead, const JointStates& seen, const JointStates& possible) {
  const JointRow sums = steps.back(seen, ahead);
  normalise(ahead, kept_columns([&](std::size_t column) { return at(possible.rows[0], column) > 0.0F; }), sums);
}

/// The rates of the grid within the cells, by straight lines between the cells' middles.
void visit_product(std::size_t k, const JointStates& past, const JointStates& ahead, const JointPath::Visitor& visit) {
  std::array<float, padded_cells> cells;
  JointRow columns{};
  for (std::size_t cell = 0; cell < padded_cells; ++cell) {
    JointRow row = past.rows[cell];
    multiply(row, ahead.rows[cell]);
    cells[cell] = sum_of(row);
    add(row, columns);
  }
  std::array<float, stride_columns> by_column;
  for (std::size_t column = 0; column < stride_columns; ++column) by_column[column] = at(columns, column);
  const auto likeliest =
      static_cast<std::size_t>(std::max_element(by_column.begin(), by_column.end()) - by_column.begin());
  // Middles of rates are a quarter of a cell from that of their cell.
  static_assert(rates_a_cell == 2 && grid_size == rates_a_cell * heart_cells - 1);
  std::array<float, rates_a_cell * heart_cells> heart;
  for (std::size_t cell = 0; cell < heart_cells; ++cell) {
    const float slower = cells[cell - std::min<std::size_t>(cell, 1)], faster = cells[cell + 1];
    heart[rates_a_cell * cell] = 0.75F * cells[cell] + 0.25F * slower;
    heart[rates_a_cell * cell + 1] = 0.75F * cells[cell] + 0.25F * faster;
  }
  heart.back() = 0.0F;  // beyond the grid
  float sum = 0.0F;
  for (const float h : heart) sum += h;
  for (float& h : heart) h *= 1.0F / sum;
  visit(k, std::span{heart}.first<grid_size>(), likeliest);
}

}  // namespace

JointPath::JointPath() {
  for (std::size_t cell = 0; cell < padded_cells; ++cell) prior_[cell] = prior_of(cell);
  constexpr float moving = (1.0F - begins_at_rest) / static_cast<float>(stride_count);
  first_.fill(Four{moving, moving, moving, moving});
  first_[0][0] = begins_at_rest;
}

JointStates& JointPath::look(const Evidence& evidence, std::size_t k) const {
  JointStates& seen = evidence(k);
  for (std::size_t cell = 0; cell < padded_cells; ++cell) multiply(seen.rows[cell], prior_[cell]);
  return seen;
}

void JointPath::begin(const JointStates& seen, JointStates& begun) const {
  JointRow sums{};
  for (std::size_t cell = 0; cell < padded_cells; ++cell) {
    begun.rows[cell] = seen.rows[cell];
    multiply(begun.rows[cell], first_);
    add(begun.rows[cell], sums);
  }
  leave_faint(begun, sums);
}

void JointPath::smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  const std::size_t kept = std::min(stretch + look_ahead, windows);
  std::vector<const JointStates*> seen(kept);
  std::vector<JointStates> forward(kept);
  std::size_t reached = 0;
  for (std::size_t first = 0; first < windows; first += stretch) {
    const std::size_t last = std::min(first + stretch + look_ahead, windows);
    for (; reached < last; ++reached) {
      const JointStates& now = look(evidence, reached);
      seen[reached % kept] = &now;
      if (reached == 0) begin(now, forward[0]);
      if (reached > 0) go_on(steps_, forward[(reached - 1) % kept], now, forward[reached % kept]);
    }
    JointStates ahead;
    ahead.fill(1.0F);  // what comes later can be anything
    for (std::size_t k = last; k-- > first;) {
      if (k < first + stretch) visit_product(k, forward[k % kept], ahead, visit);
      if (k > first) go_back(steps_, ahead, *seen[k % kept], forward[(k - 1) % kept]);
    }
  }
}

void JointPath::follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  JointStates ahead;
  ahead.fill(1.0F);
  JointStates past, now;
  for (std::size_t k = 0; k < windows; ++k) {
    const JointStates& seen = look(evidence, k);
    if (k == 0) begin(seen, now);
    if (k > 0) go_on(steps_, past, seen, now);
    visit_product(k, now, ahead, visit);
    std::swap(past, now);
  }
}

}  // namespace pulsewright::beats_stage
