#include "expected_differences.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>

#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

constexpr std::size_t fewest_differences = 20;
constexpr std::size_t longest_run = 8;
/// Measured differences on either side that a run is seen from: more hardly change the error on the development people.
constexpr std::size_t surroundings = 2;
constexpr std::size_t most_lags = longest_run + 1 + 2 * surroundings;
/// Intervals fill the time between two beats when they miss it by less, in ms: the microseconds that beat times are written with.
constexpr double same_time_ms = 0.01;
constexpr double normal_sds = 4.0;
/// Variance, in ms2, below which nothing is left to learn.
constexpr double settled = 1e-9;

/// A difference of the corrected series; nothing where one of its intervals was replaced or they do not touch.
using Differences = std::vector<std::optional<double>>;

/// Element i is from interval i to interval i + 1.
Differences measured_differences(const std::vector<NormalInterval>& intervals) {
  Differences differences;
  differences.reserve(intervals.size());
  for (std::size_t i = 0; i + 1 < intervals.size(); ++i) {
    const NormalInterval &from = intervals[i], &to = intervals[i + 1];
    const bool measured = to.touches_last && !from.replaced && !to.replaced;
    differences.push_back(measured ? std::optional(to.ms - from.ms) : std::nullopt);
  }
  return differences;
}

/// The most that a difference of normal size reaches: `normal_sds` SD, by the median of the magnitudes, half of which lie within 0.6745 SD of a normal
/// distribution. Where more than half are zero, no bound.
double normal_reach(const Differences& differences) {
  std::vector<double> sizes;
  sizes.reserve(differences.size());
  for (const auto& difference : differences)
    if (difference) sizes.push_back(std::abs(*difference));
  const double middle = upper_median(std::span(sizes));
  return middle > 0 ? normal_sds * middle / 0.6745 : std::numeric_limits<double>::infinity();
}

/// Lags 0 to `most_lags`, all over the same number, which keeps every matrix made of them positive. Larger differences than normal ones, a fault that was not
/// found perhaps, count with the most that those reach.
Eigen::VectorXd autocovariance(const Differences& differences, std::size_t count) {
  const double most = normal_reach(differences);
  const auto at = [&](std::size_t i) { return std::clamp(*differences[i], -most, most); };
  Eigen::VectorXd covariance = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(most_lags) + 1);
  for (std::size_t lag = 0; lag <= most_lags; ++lag) {
    double sum = 0;
    for (std::size_t i = lag; i < differences.size(); ++i)
      if (differences[i] && differences[i - lag]) sum += at(i) * at(i - lag);
    covariance(static_cast<Eigen::Index>(lag)) = sum / static_cast<double>(count);
  }
  return covariance;
}

/// Replaced intervals [first, last), a measured one before and after them.
struct Run {
  std::size_t first = 0, last = 0;

  [[nodiscard]] std::size_t size() const { return last - first; }
};

std::vector<Run> bridged_runs(const std::vector<NormalInterval>& intervals) {
  std::vector<Run> runs;
  for (std::size_t i = 1; i < intervals.size(); ++i) {
    if (!intervals[i].replaced || intervals[i - 1].replaced) continue;
    Run run{i, i};
    bool touches = true;
    for (; run.last < intervals.size() && intervals[run.last].replaced; ++run.last)
      touches = touches && intervals[run.last].touches_last;
    const bool closed = run.last < intervals.size() && intervals[run.last].touches_last;
    if (touches && closed && run.size() <= longest_run) runs.push_back(run);
  }
  return runs;
}

/// Gaussian differences about a run: their means and covariance.
struct Belief {
  Eigen::VectorXd mean;
  Eigen::MatrixXd covariance;

  /// Takes in that `row` times the differences is `value`; not when it lies more than `most_sds` from what was believed.
  void take_in(const Eigen::VectorXd& row, double value, double most_sds = std::numeric_limits<double>::infinity()) {
    const Eigen::VectorXd shared = covariance * row;
    const double variance = row.dot(shared), surprise = value - row.dot(mean);
    if (!(variance > settled) || std::abs(surprise) > most_sds * std::sqrt(variance)) return;
    mean += shared * (surprise / variance);
    covariance -= shared * shared.transpose() / variance;
  }
};

/// The differences begin to end, those of the run among them, once all that is known is taken in.
Belief belief_about(const Run& run, std::size_t begin, std::size_t end, const std::vector<NormalInterval>& intervals,
                    const Differences& differences, const Eigen::VectorXd& lags) {
  const auto size = static_cast<Eigen::Index>(end - begin);
  Belief belief{Eigen::VectorXd::Zero(size), Eigen::MatrixXd(size, size)};
  for (Eigen::Index i = 0; i < size; ++i)
    for (Eigen::Index j = 0; j < size; ++j) belief.covariance(i, j) = lags(std::abs(i - j));
  for (std::size_t i = begin; i < end; ++i)
    if (differences[i])
      belief.take_in(Eigen::VectorXd::Unit(size, static_cast<Eigen::Index>(i - begin)), *differences[i]);
  // The differences of the run are run.first - 1 to run.last - 1.
  const double before = intervals[run.first - 1].ms, after = intervals[run.last].ms;
  const auto at = static_cast<Eigen::Index>(run.first - 1 - begin), inside = static_cast<Eigen::Index>(run.size());
  Eigen::VectorXd step = Eigen::VectorXd::Zero(size), time = Eigen::VectorXd::Zero(size);
  step.segment(at, inside + 1).setOnes();
  belief.take_in(step, after - before);
  double filled = 0;
  for (std::size_t i = run.first; i < run.last; ++i) filled += intervals[i].ms;
  const double passed = 1000.0 * (intervals[run.last - 1].end - intervals[run.first].start).value();
  if (std::abs(filled - passed) >= same_time_ms) return belief;
  // Interval k of the run is `before` and the differences up to it.
  for (Eigen::Index k = 0; k < inside; ++k) time(at + k) = static_cast<double>(inside - k);
  belief.take_in(time, passed - static_cast<double>(inside) * before, normal_sds);
  return belief;
}

}  // namespace

ExpectedDifferences expected_differences(const NormalSeries& series) {
  ExpectedDifferences expected;
  if (series.first.size() < fewest_differences) return expected;
  const std::vector<Run> runs = bridged_runs(series.intervals);
  if (runs.empty()) return expected;
  const Differences differences = measured_differences(series.intervals);
  const Eigen::VectorXd lags = autocovariance(differences, series.first.size());
  if (!(lags(0) > 0)) return expected;

  for (const Run& run : runs) {
    const std::size_t begin = run.first - 1 - std::min(run.first - 1, surroundings);
    const std::size_t end = std::min(run.last + surroundings, differences.size());
    const Belief belief = belief_about(run, begin, end, series.intervals, differences, lags);
    const auto at = static_cast<Eigen::Index>(run.first - 1 - begin);
    const auto count = static_cast<Eigen::Index>(run.size()) + 1;
    expected.count += run.size() + 1;
    expected.sum += series.intervals[run.last].ms - series.intervals[run.first - 1].ms;
    expected.squares += belief.mean.segment(at, count).squaredNorm() +
                        belief.covariance.diagonal().segment(at, count).cwiseMax(0.0).sum();
  }
  return expected;
}

}  // namespace pulsewright
