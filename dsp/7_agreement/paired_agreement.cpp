#include "pulsewright/paired_agreement.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "pair_sums.hpp"
#include "people_bootstrap.hpp"
#include "pulsewright/error.hpp"
#include "series_moments.hpp"

namespace pulsewright {
namespace {

void check_finite(std::span<const PairedValue> pairs) {
  for (const PairedValue& pair : pairs)
    if (!std::isfinite(pair.reference) || !std::isfinite(pair.test))
      throw Error{ErrorCode::contract, "paired_agreement: values must be finite"};
}

/// Sums of each person, in the order of their numbers, all around one centre.
std::vector<PairSums> sums_by_person(std::span<const PairedValue> pairs) {
  const double centre = pairs.front().reference;
  std::map<std::size_t, PairSums> people;
  for (const PairedValue& pair : pairs) people.try_emplace(pair.person, centre).first->second.add(pair);
  std::vector<PairSums> sums;
  sums.reserve(people.size());
  for (auto& [person, sum] : people) sums.push_back(sum);
  return sums;
}

void describe(PairedAgreement& result, std::span<const PairedValue> pairs) {
  result.reference_low = result.reference_high = pairs.front().reference;
  double reference = 0, test = 0;
  for (const PairedValue& pair : pairs) {
    reference += pair.reference;
    test += pair.test;
    result.reference_low = std::min(result.reference_low, pair.reference);
    result.reference_high = std::max(result.reference_high, pair.reference);
  }
  result.reference_mean = reference / static_cast<double>(pairs.size());
  result.test_mean = test / static_cast<double>(pairs.size());
}

/// What follows from sums alone, each with its interval from the draws.
void measure_sums(PairedAgreement& result, const PairSums& all, std::span<const PairSums> draws) {
  using Measure = std::function<std::optional<double>(const PairSums&)>;
  const auto put = [&](std::optional<Estimate>& where, const Measure& measure) {
    if (const auto value = measure(all)) where = with_interval(*value, draws, result.people, measure);
  };
  put(result.bias, [](const PairSums& s) { return s.bias(); });
  put(result.mean_absolute_error, [](const PairSums& s) { return s.mean_absolute(); });
  put(result.mean_absolute_percentage_error, [](const PairSums& s) { return s.mean_absolute_percent(); });
  put(result.root_mean_square_error, [](const PairSums& s) { return s.root_mean_square(); });
  put(result.within_5_percent, [](const PairSums& s) { return s.within_5_percent(); });
  put(result.within_10_percent, [](const PairSums& s) { return s.within_10_percent(); });
  put(result.within_ec13_percent, [](const PairSums& s) { return s.within_ec13_percent(); });
  put(result.correlation, [](const PairSums& s) { return s.correlation(); });
  put(result.concordance_population, [](const PairSums& s) { return s.concordance(Moments::population); });
  put(result.trend_slope, [](const PairSums& s) { return s.trend_slope(); });
  put(result.interval_covers_percent, [](const PairSums& s) { return s.covers_percent(); });
  result.with_interval = static_cast<std::size_t>(all.with_interval());
  result.mean_interval_width = all.mean_width();
}

void explain(PairedAgreement& result) {
  const auto need = [&result](bool present, const char* measure, const char* reason) {
    if (!present) result.reasons.push_back({measure, reason});
  };
  need(result.plain.has_value(), "plain", "limits need two pairs");
  need(result.repeated.has_value(), "repeated", "repeated measures need two people, one of them with two pairs");
  need(result.people >= fewest_people, "people_intervals", "a bootstrap over people needs five people");
  need(result.correlation.has_value(), "correlation", "one of the two series does not vary");
  need(result.concordance_population.has_value(), "concordance", "neither series varies");
  need(result.trend.has_value(), "trend", "a trend needs three pairs whose means differ");
  need(result.ratio.has_value(), "ratio", "ratios need two pairs of positive values");
  need(result.intraclass.has_value(), "intraclass", "intraclass correlation needs three pairs and some spread");
  need(result.equivalence.has_value(), "equivalence", "the equivalence test needs two pairs");
  need(result.interval_covers_percent.has_value(), "interval_covers", "the test gives no intervals of its own");
  need(result.mean_absolute_percentage_error.has_value(), "mean_absolute_percentage_error",
       "a reference value is not positive");
}

}  // namespace

PairedAgreement paired_agreement(std::span<const PairedValue> pairs, const PairedOptions& options) {
  check_finite(pairs);
  PairedAgreement result;
  result.pairs = pairs.size();
  if (pairs.empty()) {
    result.reasons.push_back({"pairs", "there are no pairs to compare"});
    return result;
  }
  describe(result, pairs);
  const std::vector<PairSums> people = sums_by_person(pairs);
  result.people = people.size();
  PairSums all = people.front();
  for (std::size_t i = 1; i < people.size(); ++i) all.add(people[i]);
  measure_sums(result, all, draw_people(people, options.seed, options.resamples));

  result.plain = limits_of_agreement(differences_of(pairs));
  result.repeated = repeated_limits(pairs);
  if (pairs.size() > 1) result.concordance_sample = concordance(pairs, Moments::sample);
  result.trend = trend_of_differences(pairs);
  result.ratio = ratio_limits(pairs);
  result.intraclass = intraclass(pairs);
  result.equivalence = equivalence(pairs, options.margin);
  explain(result);
  return result;
}

}  // namespace pulsewright
