#include "rate_path.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace pulsewright::beats_stage {
namespace {

// Set together with the constants of rate_evidence.cpp.
constexpr double usual_step_bpm = 3.2;  // SD
constexpr double wide_step_bpm = 3.5;   // scale of the double exponential
constexpr double wide_share = 0.025;    // relative height at no step
/// The evidence's likelihood is (weight + floor) ^ exponent.
constexpr float exponent = 1.5F;
constexpr float evidence_floor = 0.05F;
/// Before any evidence, each window's rate is log-normal: the middle of rest and exertion, wide enough to weigh little against a line.
constexpr double prior_middle_bpm = 110.0;
constexpr double prior_sd_of_log = 0.9;

Eigen::Index index(std::size_t i) { return static_cast<Eigen::Index>(i); }

std::span<const float> view(const Eigen::VectorXf& v) { return {v.data(), static_cast<std::size_t>(v.size())}; }

}  // namespace

RatePath::RatePath() : steps_(index(grid_size), index(grid_size)), prior_(index(grid_size)) {
  for (std::size_t i = 0; i < grid_size; ++i) {
    const double z = std::log(grid_bpm(i) / prior_middle_bpm) / prior_sd_of_log;
    prior_(index(i)) = static_cast<float>(std::exp(-0.5 * z * z));
  }
  for (std::size_t from = 0; from < grid_size; ++from) {
    for (std::size_t to = 0; to < grid_size; ++to) {
      const double step = grid_bpm(to) - grid_bpm(from);
      const double z = step / usual_step_bpm;
      steps_(index(from), index(to)) =
          static_cast<float>((1.0 - wide_share) * std::exp(-0.5 * z * z) / usual_step_bpm +
                             wide_share * std::exp(-std::abs(step) / wide_step_bpm) / wide_step_bpm);
    }
    steps_.row(index(from)) /= steps_.row(index(from)).sum();
  }
  steps_back_ = steps_.transpose();
}

Eigen::VectorXf RatePath::likelihood(const RateWeights& weights) const {
  const Eigen::Map<const Eigen::ArrayXf> w(weights.data(), index(grid_size));
  return ((exponent * (w + evidence_floor).log()).exp() * prior_).matrix();
}

std::vector<Eigen::VectorXf> RatePath::likelihoods(std::span<const RateWeights> windows) const {
  std::vector<Eigen::VectorXf> all;
  all.reserve(windows.size());
  for (const RateWeights& weights : windows) all.push_back(likelihood(weights));
  return all;
}

void RatePath::smooth(std::span<const RateWeights> windows, const Visitor& visit) const {
  const std::vector<Eigen::VectorXf> seen = likelihoods(windows);
  std::vector<Eigen::VectorXf> forward;
  forward.reserve(seen.size());
  for (const Eigen::VectorXf& now : seen) {
    forward.push_back(now);
    Eigen::VectorXf& next = forward.back();
    if (forward.size() > 1) next.array() *= (steps_back_ * forward[forward.size() - 2]).array();
    next /= next.sum();
  }
  Eigen::VectorXf ahead = Eigen::VectorXf::Ones(index(grid_size));
  for (std::size_t k = seen.size(); k-- > 0;) {
    Eigen::VectorXf posterior = forward[k].cwiseProduct(ahead);
    posterior /= posterior.sum();
    visit(k, view(posterior));
    ahead = steps_ * seen[k].cwiseProduct(ahead);
    ahead /= ahead.sum();
  }
}

void RatePath::follow(std::span<const RateWeights> windows, std::size_t ahead, const Visitor& visit) const {
  const std::vector<Eigen::VectorXf> seen = likelihoods(windows);
  Eigen::VectorXf past;
  for (std::size_t k = 0; k < seen.size(); ++k) {
    Eigen::VectorXf next = seen[k];
    if (k > 0) next.array() *= (steps_back_ * past).array();
    past = next / next.sum();
    Eigen::VectorXf later = Eigen::VectorXf::Ones(index(grid_size));
    for (std::size_t j = std::min(k + ahead, seen.size() - 1); j > k; --j) {
      later = steps_ * seen[j].cwiseProduct(later);
      later /= later.sum();
    }
    Eigen::VectorXf posterior = past.cwiseProduct(later);
    posterior /= posterior.sum();
    visit(k, view(posterior));
  }
}

}  // namespace pulsewright::beats_stage
