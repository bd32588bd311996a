#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "variability_parts.hpp"

namespace pulsewright {

namespace {

/// Length of the stretches of SDANN and the SDNN index (Task Force 1996).
constexpr double stretch_s = 300.0;
/// A stretch counts when intervals cover at least this share of it (ours).
constexpr double least_share = 0.5;
/// Stretches that a spread of their means needs (ours: half an hour; the Task Force takes them over 24 h).
constexpr std::size_t fewest_stretches = 6;

/// Intervals of each clock stretch of `length_s` from the first interval's start on, of those that are covered well enough.
std::vector<std::vector<double>> covered_stretches(const std::vector<NormalInterval>& series, double length_s) {
  std::vector<std::vector<double>> stretches;
  std::vector<double> inside;
  double sum_ms = 0.0;
  double end = series.front().start.value() + length_s;
  const auto close = [&] {
    if (sum_ms >= 1000.0 * least_share * length_s) stretches.push_back(inside);
    inside.clear();
    sum_ms = 0.0;
  };
  for (const NormalInterval& interval : series) {
    if (interval.start.value() >= end) {
      close();
      end += length_s * (1.0 + std::floor((interval.start.value() - end) / length_s));
    }
    sum_ms += interval.ms;
    inside.push_back(interval.ms);
  }
  close();
  return stretches;
}

}  // namespace

void long_term_measures(const NormalSeries& series, Variability& result) {
  const std::vector<std::vector<double>> stretches = covered_stretches(series.intervals, stretch_s);
  if (stretches.size() < fewest_stretches)
    return refuse_long_term(result, fmt::format("Stretches of 5 min: {}; at least {} are needed, and the measure is "
                                                "meant for 24 h.",
                                                stretches.size(), fewest_stretches));
  std::vector<double> means, spreads;
  for (const std::vector<double>& stretch : stretches) {
    means.push_back(mean_of(stretch));
    spreads.push_back(sample_sd(stretch));
  }
  result.sdann_ms = sample_sd(means);
  result.sdnn_index_ms = mean_of(spreads);
}

void refuse_long_term(Variability& result, const std::string& why) {
  refuse(result.reasons, {"sdann_ms", "sdnn_index_ms"}, why);
}

/// Measures of variability are compared between recordings at rest of the same length (Task Force 1996). Two simple signs that this is none: the
/// rates of its minutes range over more than a fifth of the mean (ours), or the mean is above 100 beats/min, where common practice ends a resting rate.
void warn_of_movement(const NormalSeries& series, Variability& result) {
  constexpr double minute_s = 60.0, ms_per_minute = 60000.0, most_range = 0.20, most_resting_bpm = 100.0;
  std::vector<double> rates;
  for (const std::vector<double>& minute : covered_stretches(series.intervals, minute_s))
    rates.push_back(ms_per_minute / mean_of(minute));
  const auto [low, high] = std::minmax_element(rates.begin(), rates.end());
  const double mean = *result.mean_hr_bpm;
  if (rates.size() > 1 && *high - *low > most_range * mean)
    result.warnings.push_back(
        {"not_at_rest",
         fmt::format("The rate moves between {:.0f} and {:.0f} beats/min from minute to minute; SDNN and the other "
                     "measures then show that, and do not compare with figures taken at rest.",
                     *low, *high)});
  else if (mean > most_resting_bpm)
    result.warnings.push_back(
        {"not_at_rest",
         fmt::format("The mean rate of {:.0f} beats/min is none of rest; SDNN and the other measures do not compare "
                     "with figures taken at rest.",
                     mean)});
}

}  // namespace pulsewright
