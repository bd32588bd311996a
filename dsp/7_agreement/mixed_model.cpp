#include "pulsewright/mixed_model.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "distributions.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright {
namespace {

/// Sums of one person from which the likelihood follows.
struct PersonSums {
  std::size_t person = 0;
  double count = 0, y = 0, yy = 0;
  Eigen::VectorXd x, xy;
  Eigen::MatrixXd xx;
};

std::vector<PersonSums> sums_of(std::span<const double> values, std::span<const std::size_t> people,
                                std::span<const ModelColumn> columns) {
  const auto effects = static_cast<Eigen::Index>(columns.size() + 1);
  std::map<std::size_t, PersonSums> sums;
  Eigen::VectorXd row(effects);
  for (std::size_t i = 0; i < values.size(); ++i) {
    row[0] = 1;
    for (std::size_t k = 0; k < columns.size(); ++k) row[static_cast<Eigen::Index>(k + 1)] = columns[k].values[i];
    PersonSums& s = sums[people[i]];
    if (s.x.size() == 0) {
      s.person = people[i];
      s.x = s.xy = Eigen::VectorXd::Zero(effects);
      s.xx = Eigen::MatrixXd::Zero(effects, effects);
    }
    s.count += 1;
    s.y += values[i];
    s.yy += values[i] * values[i];
    s.x += row;
    s.xy += values[i] * row;
    s.xx += row * row.transpose();
  }
  std::vector<PersonSums> list;
  list.reserve(sums.size());
  for (auto& [person, s] : sums) list.push_back(std::move(s));
  return list;
}

/// Generalised least squares at one ratio of the variances, between to within.
struct Fit {
  Eigen::VectorXd effects;
  Eigen::MatrixXd information;  ///< X' V^-1 X in units of 1 / within variance
  double within = 0;
  double log_likelihood = -std::numeric_limits<double>::infinity();
};

Fit fit_at(std::span<const PersonSums> people, double ratio, const PersonSums* left_out = nullptr) {
  const Eigen::Index p = people.front().x.size();
  Fit fit;
  fit.information = Eigen::MatrixXd::Zero(p, p);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(p);
  double squares = 0, count = 0, logs = 0;
  for (const PersonSums& s : people) {
    if (&s == left_out) continue;
    const double pulled = ratio / (1 + ratio * s.count);
    fit.information += s.xx - pulled * s.x * s.x.transpose();
    right += s.xy - pulled * s.y * s.x;
    squares += s.yy - pulled * s.y * s.y;
    count += s.count;
    logs += elementary::log(1 + ratio * s.count);
  }
  const Eigen::LDLT<Eigen::MatrixXd> solved(fit.information);
  fit.effects = solved.solve(right);
  const double degrees = count - static_cast<double>(p);
  fit.within = std::max(0.0, squares - right.dot(fit.effects)) / degrees;
  double determinant = 0;
  for (const double pivot : solved.vectorD()) determinant += elementary::log(pivot);
  fit.log_likelihood = -0.5 * (degrees * (elementary::log(2 * std::numbers::pi * fit.within) + 1) + logs + determinant);
  return fit;
}

/// The ratio of the variances at which the restricted likelihood is greatest.
double best_ratio(std::span<const PersonSums> people) {
  constexpr double log_low = -16, log_high = 16, coarse = 0.5;
  double best = log_low, greatest = -std::numeric_limits<double>::infinity();
  for (double x = log_low; x <= log_high; x += coarse)
    if (const double l = fit_at(people, elementary::exp(x)).log_likelihood; l > greatest) {
      greatest = l;
      best = x;
    }
  constexpr int bits = 26;  // half of a double's digits, as many as a minimum can have
  const auto [x, cost] = boost::math::tools::brent_find_minima(
      [people](double at) { return -fit_at(people, elementary::exp(at)).log_likelihood; }, best - coarse, best + coarse,
      bits);
  return fit_at(people, 0).log_likelihood >= -cost ? 0 : elementary::exp(x);
}

bool independent(std::span<const PersonSums> people) {
  Eigen::MatrixXd all = Eigen::MatrixXd::Zero(people.front().xx.rows(), people.front().xx.cols());
  for (const PersonSums& s : people) all += s.xx;
  return Eigen::FullPivLU<Eigen::MatrixXd>(all).rank() == all.rows();
}

/// Effects whose column is the same for all values of a person, the intercept among them.
std::size_t effects_of_people(std::span<const PersonSums> people) {
  std::size_t same = 0;
  for (Eigen::Index k = 0; k < people.front().x.size(); ++k)
    same += std::all_of(people.begin(), people.end(),
                        [k](const PersonSums& s) {
                          constexpr double rounding = 1e-9;
                          return std::abs(s.xx(k, k) * s.count - s.x[k] * s.x[k]) <=
                                 rounding * std::max(1.0, s.xx(k, k) * s.count);
                        })
                ? 1U
                : 0U;
  return same;
}

/// What leaving out each person does, and the standard errors that follow.
void leave_out(MixedModel& model, std::span<const PersonSums> people, const Fit& whole, double ratio) {
  constexpr std::size_t fewest = 3;
  if (people.size() < fewest) return;
  for (const PersonSums& s : people) {
    const Fit without = fit_at(people, ratio, &s);
    const Eigen::VectorXd change = without.effects - whole.effects;
    if (!change.allFinite()) continue;  // nobody else has that level
    model.influence.push_back({s.person, {change.begin(), change.end()}});
  }
  const double n = static_cast<double>(model.influence.size());
  for (std::size_t k = 0; k < model.effects.size(); ++k) {
    double mean = 0, squares = 0;
    for (const Influence& one : model.influence) mean += one.change[k] / n;
    for (const Influence& one : model.influence) squares += (one.change[k] - mean) * (one.change[k] - mean);
    model.effects[k].over_people = std::sqrt(squares * (n - 1) / n);
  }
}

}  // namespace

std::optional<MixedModel> mixed_model(std::span<const double> values, std::span<const std::size_t> people,
                                      std::span<const ModelColumn> columns) {
  const std::vector<PersonSums> sums = sums_of(values, people, columns);
  if (sums.size() < 2 || values.size() <= sums.size() + columns.size() || !independent(sums)) return std::nullopt;
  const double ratio = best_ratio(sums);
  const Fit fit = fit_at(sums, ratio);
  MixedModel model;
  model.people = sums.size();
  model.values = values.size();
  model.within_variance = fit.within;
  model.between_variance = ratio * fit.within;
  model.log_likelihood = fit.log_likelihood;
  model.degrees = static_cast<double>(sums.size()) - static_cast<double>(effects_of_people(sums));
  const Eigen::MatrixXd covariance = fit.within * fit.information.inverse();
  for (std::size_t k = 0; k <= columns.size(); ++k) {
    const auto at = static_cast<Eigen::Index>(k);
    FixedEffect effect;
    effect.name = k == 0 ? "intercept" : columns[k - 1].name;
    effect.value.value = fit.effects[at];
    effect.error = std::sqrt(std::max(0.0, covariance(at, at)));
    model.effects.push_back(std::move(effect));
  }
  leave_out(model, sums, fit, ratio);
  if (model.degrees >= 1)
    for (FixedEffect& effect : model.effects) {
      const double reach = student_quantile(0.975, model.degrees) * std::max(effect.error, effect.over_people);
      effect.value.low = effect.value.value - reach;
      effect.value.high = effect.value.value + reach;
    }
  return model;
}

}  // namespace pulsewright
