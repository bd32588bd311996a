#include <algorithm>
#include <cmath>
#include <map>

#include "distributions.hpp"
#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {
namespace {

/// One mean square, the weight it has in the variance of a difference, and its degrees of freedom.
struct Part {
  double weighted = 0;
  double degrees = 1;

  /// Square of the distance from the estimate down and up to the ends of its chi-squared interval.
  [[nodiscard]] double below() const {
    const double d = weighted * (1 - degrees / chi_squared_quantile(0.975, degrees));
    return d * d;
  }
  [[nodiscard]] double above() const {
    const double d = weighted * (degrees / chi_squared_quantile(0.025, degrees) - 1);
    return d * d;
  }
};

}  // namespace

std::optional<RepeatedLimits> repeated_limits(std::span<const PairedValue> pairs) {
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
  const double variance = result.between_variance + result.within_variance;
  LimitsOfAgreement& limits = result.limits;
  limits.sd = std::sqrt(variance);

  const double bias_error =
      std::sqrt(std::max(squared_counts / (all * all) * result.between_variance + result.within_variance / all, 0.0));
  const double reach = student_quantile(0.975, people - 1) * bias_error;
  limits.bias = {bias, bias - reach, bias + reach};

  const Part parts[] = {{result.mean_square_between / number, people - 1},
                        {(1 - 1 / number) * result.mean_square_within, all - people}};
  const double low = std::max(0.0, variance - std::sqrt(parts[0].below() + parts[1].below()));
  const double high = variance + std::sqrt(parts[0].above() + parts[1].above());
  const auto distance = [&](double end) {
    const double of_sd = limit_multiple * (std::sqrt(end) - limits.sd);
    return std::sqrt(normal_95 * normal_95 * bias_error * bias_error + of_sd * of_sd);
  };
  const double inward = distance(low), outward = distance(high), width = limit_multiple * limits.sd;
  limits.lower = {bias - width, bias - width - outward, bias - width + inward};
  limits.upper = {bias + width, bias + width - inward, bias + width + outward};
  return result;
}

}  // namespace pulsewright
