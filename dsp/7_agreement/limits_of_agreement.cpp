#include <cmath>

#include "distributions.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "series_moments.hpp"

namespace pulsewright {

std::optional<LimitsOfAgreement> limits_of_agreement(std::span<const double> differences) {
  if (differences.size() < 2) return std::nullopt;
  const double n = static_cast<double>(differences.size());
  LimitsOfAgreement result;
  const double bias = mean_of(differences);
  result.sd = std::sqrt(squares_around(differences, bias) / (n - 1));
  const double reach = student_quantile(0.975, n - 1) * result.sd / std::sqrt(n);
  result.bias = {bias, bias - reach, bias + reach};

  // (bias + k SD - (mu + 1.96 sigma)) sqrt(n) / SD follows a noncentral t with this noncentrality.
  const double noncentrality = limit_multiple * std::sqrt(n);
  const double inner = noncentral_student_quantile(0.025, n - 1, noncentrality) / std::sqrt(n);
  const double outer = noncentral_student_quantile(0.975, n - 1, noncentrality) / std::sqrt(n);
  result.lower = {bias - limit_multiple * result.sd, bias - outer * result.sd, bias - inner * result.sd};
  result.upper = {bias + limit_multiple * result.sd, bias + inner * result.sd, bias + outer * result.sd};
  return result;
}

std::optional<RatioLimits> ratio_limits(std::span<const PairedValue> pairs) {
  std::vector<double> logarithms;
  logarithms.reserve(pairs.size());
  for (const PairedValue& pair : pairs) {
    if (!(pair.reference > 0) || !(pair.test > 0)) return std::nullopt;
    logarithms.push_back(elementary::log(pair.test / pair.reference));
  }
  const auto limits = limits_of_agreement(logarithms);
  if (!limits) return std::nullopt;
  const auto back = [](const Estimate& e) {
    return Estimate{elementary::exp(e.value), elementary::exp(*e.low), elementary::exp(*e.high)};
  };
  return RatioLimits{back(limits->bias), back(limits->lower), back(limits->upper)};
}

std::optional<double> repeatability(std::span<const double> first, std::span<const double> second) {
  if (first.size() != second.size())
    throw Error{ErrorCode::contract, "repeatability: both readings of every person are needed"};
  if (first.empty()) return std::nullopt;
  double sum = 0;
  for (std::size_t i = 0; i < first.size(); ++i) sum += (first[i] - second[i]) * (first[i] - second[i]);
  return 2 * std::sqrt(sum / static_cast<double>(first.size()));
}

}  // namespace pulsewright
