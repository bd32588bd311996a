#include "paired_path.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Set together with the constants of paired_evidence.cpp.
constexpr double usual_step_bpm = 3.0;  // SD
constexpr int usual_reach_bpm = 12;     // four SD
constexpr double wide_step_bpm = 3.0;   // scale of the double exponential
constexpr double wide_share = 0.03;     // relative height at no step
constexpr double usual_stride_step = 2.5;
/// From one window to the next: a stride becomes any other, ends, or begins.
constexpr double stride_jumps = 0.01, stride_ends = 0.02, stride_begins = 0.025;
/// The share of recordings that begin at rest.
constexpr double begins_at_rest = 0.85;
/// Each window's rate by itself is log-normal: with a stride beside it, and without one.
constexpr double alone_middle_bpm = 80.0, alone_sd_of_log = 0.38;
constexpr double beside_middle_bpm = 97.0, beside_sd_of_log = 0.33;
/// Windows whose evidence is kept at a time: some 15 MB.
constexpr std::size_t block = 256;

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }

double log_normal(double bpm, double middle, double sd) {
  const double z = std::log(bpm / middle) / sd;
  return std::exp(-0.5 * z * z);
}

void visit_pairs(std::size_t k, const Pairs& pairs, const PairedPath::Visitor& visit) {
  Eigen::ArrayXf heart = pairs.rowwise().sum();
  heart /= heart.sum();
  Eigen::Index column = 0;
  pairs.colwise().sum().maxCoeff(&column);
  visit(k, {heart.data(), grid_size}, static_cast<std::size_t>(column));
}

}  // namespace

PairedPath::PairedPath()
    : usual_step_(usual_reach_bpm + 1),
      leaving_(Eigen::ArrayXf::Ones(index(grid_size))),
      first_stride_(index(pair_columns)) {
  for (std::size_t i = 0; i < grid_size; ++i) {
    prior_.row(index(i)).setConstant(static_cast<float>(log_normal(grid_bpm(i), beside_middle_bpm, beside_sd_of_log)));
    prior_(index(i), 0) = static_cast<float>(log_normal(grid_bpm(i), alone_middle_bpm, alone_sd_of_log));
  }
  for (int step = 0; step <= usual_reach_bpm; ++step) {
    const double z = step / usual_step_bpm;
    usual_step_(step) = static_cast<float>((1.0 - wide_share) * std::exp(-0.5 * z * z) / usual_step_bpm);
  }
  Pairs sums = Pairs::Ones();
  spread_heart(sums);
  leaving_ = sums.col(0).inverse();

  const double each = 1.0 / static_cast<double>(stride_count);
  first_stride_.setConstant(static_cast<float>((1.0 - begins_at_rest) * each));
  first_stride_(0) = static_cast<float>(begins_at_rest);
  stride_steps_.row(0).setConstant(static_cast<float>(stride_begins * each));
  stride_steps_(0, 0) = static_cast<float>(1.0 - stride_begins);
  for (Eigen::Index from = 1; from < stride_steps_.rows(); ++from) {
    Eigen::ArrayXf near(index(stride_count));
    for (Eigen::Index to = 0; to < near.size(); ++to) {
      const double z = stride_step * static_cast<double>(to + 1 - from) / usual_stride_step;
      near(to) = static_cast<float>(std::exp(-0.5 * z * z));
    }
    near *= static_cast<float>(1.0 - stride_jumps) / near.sum();
    near += static_cast<float>(stride_jumps * each);
    stride_steps_.row(from).tail(near.size()) = static_cast<float>(1.0 - stride_ends) * near.matrix().transpose();
    stride_steps_(from, 0) = static_cast<float>(stride_ends);
  }
}

void PairedPath::likelihood(const Evidence& evidence, std::size_t k, Pairs& likelihood) const {
  evidence(k, likelihood);
  likelihood = (likelihood - likelihood.maxCoeff()).exp() * prior_;
}

void PairedPath::spread_heart(Pairs& pairs) const {
  constexpr auto size = static_cast<Eigen::Index>(grid_size);
  Pairs spread = usual_step_(0) * pairs;
  for (Eigen::Index step = 1; step < usual_step_.size(); ++step) {
    spread.topRows(size - step) += usual_step_(step) * pairs.bottomRows(size - step);
    spread.bottomRows(size - step) += usual_step_(step) * pairs.topRows(size - step);
  }
  // The double exponential, as a sum that fades upwards and one that fades downwards.
  const auto fade = static_cast<float>(std::exp(-1.0 / wide_step_bpm));
  const auto height = static_cast<float>(wide_share / wide_step_bpm);
  Eigen::Array<float, 1, static_cast<int>(pair_columns)> up, down;
  up.setZero();
  down.setZero();
  for (Eigen::Index i = 0; i < size; ++i) {
    up = fade * up + pairs.row(i);
    spread.row(i) += height * up;
    spread.row(size - 1 - i) += height * down;
    down = fade * (down + pairs.row(size - 1 - i));
  }
  pairs = spread;
}

void PairedPath::step(Pairs& pairs) const {
  pairs.colwise() *= leaving_;
  spread_heart(pairs);
  pairs = (pairs.matrix() * stride_steps_).array().eval();
}

void PairedPath::step_back(Pairs& pairs) const {
  pairs = (pairs.matrix() * stride_steps_.transpose()).array().eval();
  spread_heart(pairs);
  pairs.colwise() *= leaving_;
}

void PairedPath::smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  if (windows == 0) return;
  std::vector<Pairs> seen(std::min(block, windows)), forward(seen.size());
  std::vector<Pairs> starts;  // predictions for the first window of each block
  starts.reserve(windows / block + 1);
  Pairs next = first_stride_.array().replicate(index(grid_size), 1);
  const auto go_through = [&](std::size_t first) {
    for (std::size_t k = first; k < std::min(first + block, windows); ++k) {
      likelihood(evidence, k, seen[k - first]);
      next *= seen[k - first];
      next /= next.sum();
      forward[k - first] = next;
      step(next);
    }
  };
  for (std::size_t first = 0; first < windows; first += block) {
    starts.push_back(next);
    go_through(first);
  }
  Pairs ahead = Pairs::Ones();
  for (std::size_t first = (windows - 1) / block * block;; first -= block) {
    if (first + block < windows) {
      next = starts[first / block];
      go_through(first);
    }
    for (std::size_t k = std::min(first + block, windows); k-- > first;) {
      visit_pairs(k, forward[k - first] * ahead, visit);
      ahead *= seen[k - first];
      step_back(ahead);
      ahead /= ahead.sum();
    }
    if (first == 0) return;
  }
}

void PairedPath::follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const {
  Pairs seen, past = first_stride_.array().replicate(index(grid_size), 1);
  for (std::size_t k = 0; k < windows; ++k) {
    likelihood(evidence, k, seen);
    past *= seen;
    past /= past.sum();
    visit_pairs(k, past, visit);
    step(past);
  }
}

}  // namespace pulsewright::beats_stage
