#include "rate_path.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Set together with the constants of rate_evidence.cpp.
constexpr StepShape step_shape{.usual_bpm = 3.2, .wide_bpm = 3.5, .wide_share = 0.025};
/// The evidence's likelihood is (weight + floor) ^ 3/2.
constexpr float evidence_floor = 0.05F;
/// Before any evidence, each window's rate is log-normal: the middle of rest and exertion, wide enough to weigh little against a line.
constexpr double prior_middle_bpm = 110.0;
constexpr double prior_sd_of_log = 0.9;
/// Nothing is impossible, and no product of two probabilities too small for a float.
constexpr float least_probability = 1e-15F;

constexpr auto size = static_cast<Eigen::Index>(grid_size);

template <typename Row>
void normalise(Row& row) {
  row = (row / row.sum()).max(least_probability);
}

template <typename Row>
std::span<float> view(Row& row) {
  return {row.data(), padded_grid_size};
}

template <typename Row>
void visit_product(std::size_t k, const Row& past, const Row& ahead, const RatePath::Visitor& visit) {
  Row posterior = past * ahead;
  posterior /= posterior.template head<size>().sum();
  visit(k, {posterior.data(), grid_size});
}

}  // namespace

RatePath::RatePath() : steps_(step_shape, grid_size, padded_grid_size, grid_step_bpm), prior_(Row::Zero()) {
  for (std::size_t i = 0; i < grid_size; ++i) {
    const double z = elementary::log(grid_bpm(i) / prior_middle_bpm) / prior_sd_of_log;
    prior_(static_cast<Eigen::Index>(i)) = static_cast<float>(elementary::exp(-0.5 * z * z));
  }
}

RatePath::Row RatePath::likelihood(const RateWeights& window) const {
  Row seen = Row::Zero();
  seen.head<size>() = Eigen::Map<const Eigen::Array<float, size, 1>>(window.data()) + evidence_floor;
  return seen * seen.sqrt() * prior_;
}

RatePath::Row RatePath::next(Row past, const Row& seen) const {
  steps_.forward(view(past), view(past));
  past *= seen;
  normalise(past);
  return past;
}

RatePath::Row RatePath::before(const Row& ahead, const Row& seen) const {
  Row row = ahead * seen;
  steps_.back(view(row), view(row));
  normalise(row);
  return row;
}

void RatePath::smooth(std::span<const RateWeights> windows, const Visitor& visit) const {
  std::vector<Row> forward;
  forward.reserve(windows.size());
  for (const RateWeights& window : windows) {
    const Row seen = likelihood(window);
    forward.push_back(forward.empty() ? seen : next(forward.back(), seen));
  }
  Row ahead = Row::Ones();
  for (std::size_t k = windows.size(); k-- > 0;) {
    visit_product(k, forward[k], ahead, visit);
    ahead = before(ahead, likelihood(windows[k]));
  }
}

void RatePath::follow(std::span<const RateWeights> windows, std::size_t ahead, const Visitor& visit) const {
  Row past;
  for (std::size_t k = 0; k < windows.size(); ++k) {
    const Row seen = likelihood(windows[k]);
    past = k > 0 ? next(past, seen) : seen;
    Row later = Row::Ones();
    for (std::size_t j = std::min(k + ahead, windows.size() - 1); j > k; --j)
      later = before(later, likelihood(windows[j]));
    visit_product(k, past, later, visit);
  }
}

}  // namespace pulsewright::beats_stage
