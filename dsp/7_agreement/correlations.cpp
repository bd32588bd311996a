#include <cmath>

#include "distributions.hpp"
#include "elementary/elementary.hpp"
#include "pair_sums.hpp"
#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {
namespace {

PairSums sums_of(std::span<const PairedValue> pairs) {
  PairSums sums(pairs.empty() ? 0 : pairs.front().reference);
  for (const PairedValue& pair : pairs) sums.add(pair);
  return sums;
}

}  // namespace

std::optional<Estimate> pearson(std::span<const PairedValue> pairs) {
  constexpr std::size_t fewest = 4;  // Fisher's interval divides by n - 3
  if (pairs.size() < fewest) return std::nullopt;
  const auto r = sums_of(pairs).correlation();
  if (!r) return std::nullopt;
  if (std::abs(*r) >= 1) return Estimate{*r, *r, *r};
  const double reach = normal_95 / std::sqrt(static_cast<double>(pairs.size()) - 3);
  return Estimate{*r, elementary::tanh(elementary::atanh(*r) - reach), elementary::tanh(elementary::atanh(*r) + reach)};
}

std::optional<double> concordance(std::span<const PairedValue> pairs, Moments moments) {
  if (pairs.size() < 2) return std::nullopt;
  return sums_of(pairs).concordance(moments);
}

std::optional<IntraclassCorrelations> intraclass(std::span<const PairedValue> pairs) {
  if (pairs.size() < 3) return std::nullopt;
  constexpr double k = 2;  // ways of measuring
  const double n = static_cast<double>(pairs.size());
  double grand = 0, bias = 0;
  for (const PairedValue& pair : pairs) {
    grand += (pair.reference + pair.test) / 2;
    bias += pair.test - pair.reference;
  }
  grand /= n;
  bias /= n;
  double rows = 0, within = 0;
  for (const PairedValue& pair : pairs) {
    const double mean = (pair.reference + pair.test) / 2, d = pair.test - pair.reference;
    rows += k * (mean - grand) * (mean - grand);
    within += d * d / 2;
  }
  const double columns = n * bias * bias / 2;  // sum of squares between the two ways
  const double ms_rows = rows / (n - 1), ms_within = within / n, ms_columns = columns;
  const double ms_error = std::max(0.0, within - columns) / (n - 1);
  // The pairs' means must differ: correlation within classes that are all alike is none.
  constexpr double rounding = 1e-12;
  if (!(rows > rounding * k * n * grand * grand)) return std::nullopt;

  IntraclassCorrelations icc;
  const auto single = [&](double noise, double degrees) {
    Estimate e{(ms_rows - noise) / (ms_rows + (k - 1) * noise), std::nullopt, std::nullopt};
    if (noise > 0) {
      const double f = ms_rows / noise;
      const double low = f / fisher_quantile(0.975, n - 1, degrees);
      const double high = f * fisher_quantile(0.975, degrees, n - 1);
      e.low = (low - 1) / (low + k - 1);
      e.high = (high - 1) / (high + k - 1);
    }
    return e;
  };
  icc.one_way = single(ms_within, n * (k - 1));
  icc.consistency = single(ms_error, (n - 1) * (k - 1));
  const double of_ways = k * (ms_columns - ms_error) / n;
  Estimate& a = icc.agreement;
  a.value = (ms_rows - ms_error) / (ms_rows + (k - 1) * ms_error + of_ways);
  if (ms_error > 0 && a.value < 1) {
    const double share = a.value / (n * (1 - a.value));
    const double u = k * share * ms_columns, v = (1 + k * share * (n - 1)) * ms_error;
    const double degrees = (u + v) * (u + v) / (u * u / (k - 1) + v * v / ((n - 1) * (k - 1)));
    const double both = k * ms_columns + (k * n - k - n) * ms_error;
    const double f_low = fisher_quantile(0.975, n - 1, degrees), f_high = fisher_quantile(0.975, degrees, n - 1);
    a.low = n * (ms_rows - f_low * ms_error) / (f_low * both + n * ms_rows);
    a.high = n * (f_high * ms_rows - ms_error) / (both + n * f_high * ms_rows);
  }
  return icc;
}

}  // namespace pulsewright
