#include <algorithm>
#include <cmath>
#include <map>

#include "distributions.hpp"
#include "people_intervals.hpp"
#include "people_series.hpp"

namespace pulsewright {

std::optional<RepeatedLimits> repeated_limits(std::span<const PairedValue> pairs) {
  return repeated_limits(pairs, draw_populations(differences_by_person(pairs)));
}

std::optional<RepeatedLimits> repeated_limits(std::span<const PairedValue> pairs,
                                              std::span<const Population> populations) {
  struct Group {
    double count = 0, sum = 0, squares = 0;
  };
  std::map<std::size_t, Group> groups;
  for (const PairedValue& pair : pairs) {
    Group& group = groups[pair.person];
    group.count += 1;
    group.sum += pair.test - pair.reference;
  }
  const double people = static_cast<double>(groups.size()), all = static_cast<double>(pairs.size());
  if (groups.size() < 2 || groups.size() == pairs.size()) return std::nullopt;
  double total = 0;
  for (const auto& [person, group] : groups) total += group.sum;
  const double bias = total / all;
  double within = 0;
  for (const PairedValue& pair : pairs) {
    const Group& group = groups[pair.person];
    const double d = pair.test - pair.reference - group.sum / group.count;
    within += d * d;
  }
  double between = 0, squared_counts = 0;
  for (const auto& [person, group] : groups) {
    const double d = group.sum / group.count - bias;
    between += group.count * d * d;
    squared_counts += group.count * group.count;
  }

  RepeatedLimits result;
  result.people = groups.size();
  result.mean_square_between = between / (people - 1);
  result.mean_square_within = within / (all - people);
  // The number a person when all have the same; the divisor of Bland & Altman 2007 when not.
  const double number = (all * all - squared_counts) / ((people - 1) * all);
  result.within_variance = result.mean_square_within;
  result.between_variance = std::max(0.0, (result.mean_square_between - result.mean_square_within) / number);
  LimitsOfAgreement& limits = result.limits;
  limits.sd = std::sqrt(result.between_variance + result.within_variance);

  const double bias_error =
      std::sqrt(std::max(squared_counts / (all * all) * result.between_variance + result.within_variance / all, 0.0));
  const double reach = student_quantile(0.975, people - 1) * bias_error;
  limits.bias = {bias, bias - reach, bias + reach};

  const auto interval = [populations](double value, double (*measure)(const Population&)) {
    return over_populations(value, populations, measure);
  };
  const double width = limit_multiple * limits.sd;
  limits.lower = interval(bias - width, [](const Population& p) { return p.mean - limit_multiple * p.sd(); });
  limits.upper = interval(bias + width, [](const Population& p) { return p.mean + limit_multiple * p.sd(); });
  result.sd = interval(limits.sd, [](const Population& p) { return p.sd(); });
  result.between_sd =
      interval(std::sqrt(result.between_variance), [](const Population& p) { return std::sqrt(p.between_variance); });
  result.within_sd =
      interval(std::sqrt(result.within_variance), [](const Population& p) { return std::sqrt(p.within_variance); });
  return result;
}

}  // namespace pulsewright
