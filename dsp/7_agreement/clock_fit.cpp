#include "clock_fit.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <map>

#include "dense_solve.hpp"
#include "elementary/elementary.hpp"
#include "offset_line.hpp"

namespace pulsewright {
namespace {

/// Rates that differ by more than about this do not agree (beats/min): an eighth of a minute makes one beat in 8 s worth 7.5.
constexpr double agreeing_bpm = 2.0;
/// Offsets are tried so far around the expected one, and constant differences so far around none.
constexpr double search_s = 2.0, search_step_s = 0.25, search_bpm = 5.0, search_step_bpm = 0.5;
/// 95 % as efficient as least squares where differences are normal (Holland & Welsch 1977, Commun Stat A6:813).
constexpr double biweight = 4.685;
constexpr double least_sd_bpm = 0.3;
constexpr std::size_t fewest_rates = 20;
/// Rates further apart than this are taken for independent.
constexpr double block_s = 30.0;
constexpr double first_span_s = 1200.0;

std::int64_t block_of(double time_s) { return static_cast<std::int64_t>(std::floor(time_s / block_s)); }

struct Fit {
  ClockFit clocks;
  double difference_bpm = 0;  ///< constant, between the sides
};

/// How many rates agree, softly counted, and with which constant difference between the sides.
std::pair<double, double> agreement_at(const RateAtAnyTime& known, const std::vector<TimedRate>& rates,
                                       double shift_s) {
  std::vector<double> differences;
  for (const TimedRate& rate : rates)
    if (const auto other = known.at(rate.time_s + shift_s)) differences.push_back(rate.bpm - *other);
  std::pair<double, double> best{-1, 0};
  for (double constant = -search_bpm; constant <= search_bpm; constant += search_step_bpm) {
    double agreeing = 0;
    for (const double d : differences) {
      const double z = (d - constant) / agreeing_bpm;
      agreeing += elementary::exp(-0.5 * (z * z));
    }
    if (agreeing > best.first) best = {agreeing, constant};
  }
  return best;
}

Fit best_start(const RateAtAnyTime& known, const std::vector<TimedRate>& rates, double near_s, double middle_s) {
  Fit fit;
  fit.clocks.middle_s = middle_s;
  double most = -1;
  for (double shift = near_s - search_s; shift <= near_s + search_s; shift += search_step_s) {
    const auto [agreeing, constant] = agreement_at(known, rates, shift);
    if (agreeing <= most) continue;
    most = agreeing;
    fit.clocks.shift_s = shift;
    fit.difference_bpm = constant;
  }
  return fit;
}

/// Rates that can be compared: the effect of shift, drift and constant on each difference, and the differences.
struct Linearised {
  Eigen::MatrixXd effects;
  Eigen::VectorXd differences;
  Eigen::VectorXd weights, curvatures;  ///< of the biweight: of a difference, and of its change
  std::vector<double> times;
};

Linearised linearised(const RateAtAnyTime& known, const std::vector<TimedRate>& rates, const Fit& fit, bool drift) {
  std::vector<std::array<double, 4>> rows;
  Linearised result;
  for (const TimedRate& rate : rates) {
    const double time = fit.clocks.to_known(rate.time_s);
    const auto value = known.at(time), slope = known.slope_at(time);
    if (!value || !slope) continue;
    rows.push_back({*slope, *slope * (rate.time_s - fit.clocks.middle_s), 1.0, rate.bpm - *value - fit.difference_bpm});
    result.times.push_back(rate.time_s);
  }
  const auto n = static_cast<Eigen::Index>(rows.size());
  result.effects.resize(n, drift ? 3 : 2);
  result.differences.resize(n);
  std::vector<double> near;
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& [shift, drifted, constant, difference] = rows[static_cast<std::size_t>(i)];
    result.effects(i, 0) = shift;
    if (drift) result.effects(i, 1) = drifted;
    result.effects(i, result.effects.cols() - 1) = constant;
    result.differences(i) = difference;
    if (std::abs(difference) < 2 * agreeing_bpm) near.push_back(std::abs(difference));
  }
  constexpr double sd_of_median = 1.4826;
  const double sd = near.empty() ? least_sd_bpm : std::max(least_sd_bpm, sd_of_median * median_of(std::move(near)));
  const Eigen::ArrayXd parts = (result.differences.array() / (biweight * sd)).square();
  result.weights = (parts < 1).select((1 - parts).square(), 0.0);
  result.curvatures = (parts < 1).select((1 - parts) * (1 - 5 * parts), 0.0);
  return result;
}

/// Jackknife over half minutes, in one step each: how the fit would move if one were left out. Rates of one half minute depend on each other, and some, on a steep course, weigh a lot.
Eigen::MatrixXd covariance_of(const Linearised& l) {
  const Eigen::Index size = l.effects.cols();
  struct Block {
    Eigen::VectorXd pull;
    Eigen::MatrixXd normal;
  };
  std::map<std::int64_t, Block> blocks;
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(size, size);
  for (Eigen::Index i = 0; i < l.differences.size(); ++i) {
    auto& block = blocks[block_of(l.times[static_cast<std::size_t>(i)])];
    if (block.pull.size() == 0) block = {Eigen::VectorXd::Zero(size), Eigen::MatrixXd::Zero(size, size)};
    const Eigen::VectorXd effect = l.effects.row(i).transpose();
    block.pull += l.weights(i) * l.differences(i) * effect;
    block.normal += l.curvatures(i) * effect * effect.transpose();
    normal += l.curvatures(i) * effect * effect.transpose();
  }
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(size, size);
  for (const auto& [number, block] : blocks) {
    if (const auto step = solve_square(normal - block.normal, block.pull)) covariance += *step * step->transpose();
  }
  return covariance;
}

/// Improves `fit` until it stays; false when it does not settle.
bool settle(const RateAtAnyTime& known, const std::vector<TimedRate>& rates, bool drift, Fit& fit) {
  constexpr int most_rounds = 40;
  constexpr double close_s = 1e-3, close_drift = 1e-7;
  for (int round = 0; round < most_rounds; ++round) {
    const Linearised l = linearised(known, rates, fit, drift);
    if (l.times.size() < fewest_rates) return false;
    const Eigen::MatrixXd weighted = l.weights.asDiagonal() * l.effects;
    const auto solved = solve_square(l.effects.transpose() * weighted, weighted.transpose() * l.differences);
    if (!solved) return false;
    const Eigen::VectorXd& step = *solved;
    fit.clocks.shift_s += step(0);
    if (drift) fit.clocks.drift += step(1);
    fit.difference_bpm += step(step.size() - 1);
    if (round + 1 < most_rounds && (std::abs(step(0)) > close_s || (drift && std::abs(step(1)) > close_drift)))
      continue;
    const Eigen::MatrixXd covariance = covariance_of(l);
    fit.clocks.shift_error_s = std::sqrt(covariance(0, 0));
    if (drift) {
      fit.clocks.drift_error = std::sqrt(covariance(1, 1));
      fit.clocks.covariance = covariance(0, 1);
    }
    return true;
  }
  return false;
}

std::vector<TimedRate> around(const std::vector<TimedRate>& rates, double middle_s, double span_s) {
  std::vector<TimedRate> inside;
  for (const TimedRate& rate : rates)
    if (std::abs(rate.time_s - middle_s) <= 0.5 * span_s) inside.push_back(rate);
  return inside;
}

}  // namespace

std::vector<TimedRate> timed_rates(const RateSeries& rates) {
  std::vector<TimedRate> result;
  for (const RateWindow& window : rates.windows)
    if (window.rate) result.push_back({0.5 * (window.window.start + window.window.end).value(), window.rate->value()});
  return result;
}

std::optional<ClockFit> fit_clocks(const RateAtAnyTime& known, const std::vector<TimedRate>& rates, double near_s,
                                   bool with_drift) {
  if (rates.size() < fewest_rates) return std::nullopt;
  const double length = rates.back().time_s - rates.front().time_s;
  const double middle = 0.5 * (rates.front().time_s + rates.back().time_s);
  std::optional<Fit> fit;
  for (double span = with_drift ? first_span_s : length;; span *= 2) {
    const std::vector<TimedRate> inside = around(rates, middle, span + block_s);
    Fit next = fit ? *fit : best_start(known, inside, near_s, middle);
    if (settle(known, inside, with_drift, next) && std::abs(next.clocks.shift_s - near_s) <= search_s + 1)
      fit = next;
    else if (span >= length)
      return std::nullopt;
    if (span >= length) break;
  }
  return fit->clocks;
}

std::optional<AlignmentGain> gain_of(const RateAtAnyTime& known, const std::vector<TimedRate>& rates,
                                     const ClockFit& fit, double as_is_s) {
  constexpr double largest_bpm = 5.0;
  std::map<std::int64_t, double> blocks;
  double sum = 0, count = 0;
  for (const TimedRate& rate : rates) {
    const auto as_is = known.at(rate.time_s + as_is_s), aligned = known.at(fit.to_known(rate.time_s));
    if (!as_is || !aligned) continue;
    const double gain =
        std::min(largest_bpm, std::abs(rate.bpm - *as_is)) - std::min(largest_bpm, std::abs(rate.bpm - *aligned));
    blocks[block_of(rate.time_s)] += gain;
    sum += gain;
    count += 1;
  }
  if (count == 0) return std::nullopt;
  double squares = 0;
  for (const auto& [number, part] : blocks) squares += part * part;
  return AlignmentGain{sum / count, std::sqrt(squares) / count};
}

}  // namespace pulsewright
