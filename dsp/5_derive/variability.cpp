#include "pulsewright/variability.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

/// NN50 counts differences of more than this (Task Force of ESC/NASPE 1996, Circulation 93:1043).
constexpr std::int64_t large_difference_us = 50'000;

/// Sum in the order of the series; two passes keep the spread exact for large means.
double mean_of(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

/// Standard deviation with n - 1; needs two values.
double sample_sd(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double sum = 0.0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

/// Differences that were measured: between intervals that touch, neither of them interpolated.
std::vector<double> differences(const std::vector<NormalInterval>& series) {
  std::vector<double> result;
  for (std::size_t i = 1; i < series.size(); ++i)
    if (series[i].touches_last && !series[i].replaced && !series[i - 1].replaced)
      result.push_back(series[i].ms - series[i - 1].ms);
  return result;
}

/// Mean rates, in beats/min, of the minutes from the first interval on; a minute of which less than half is covered has none.
std::vector<double> minute_rates(const std::vector<NormalInterval>& series) {
  constexpr double minute_s = 60.0, ms_per_minute = 60000.0, least_ms = 30000.0;
  std::vector<double> rates;
  double sum_ms = 0.0;
  int count = 0;
  double minute_end = series.front().start.value() + minute_s;
  const auto close = [&] {
    if (sum_ms >= least_ms) rates.push_back(ms_per_minute * count / sum_ms);
    sum_ms = 0.0;
    count = 0;
  };
  for (const NormalInterval& interval : series) {
    if (interval.start.value() >= minute_end) {
      close();
      minute_end += minute_s * (1.0 + std::floor((interval.start.value() - minute_end) / minute_s));
    }
    sum_ms += interval.ms;
    ++count;
  }
  close();
  return rates;
}

/// Measures of variability are compared between recordings at rest of the same length (Task Force 1996). Two simple signs that this is none: the
/// rates of its minutes range over more than a fifth of the mean (ours), or the mean is above 100 beats/min, where common practice ends a resting rate.
void warn_of_movement(const std::vector<NormalInterval>& series, Variability& result) {
  constexpr double most_range = 0.20, most_resting_bpm = 100.0;
  const std::vector<double> rates = minute_rates(series);
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

constexpr const char* of_intervals[] = {"mean_nn_ms", "sdnn_ms", "mean_hr_bpm", "min_nn_ms", "max_nn_ms"};
constexpr const char* of_differences[] = {"rmssd_ms", "sdsd_ms", "nn50_count", "pnn50_percent"};

void give_reason(Variability& result, std::span<const char* const> measures, const std::string& reason) {
  for (const char* measure : measures) result.reasons.push_back({measure, reason});
}

}  // namespace

Variability variability(const Intervals& intervals, const VariabilityOptions& options) {
  Variability result;
  result.provenance = intervals.provenance;
  result.warnings = intervals.warnings;
  result.flagged_percent = intervals.flagged_percent();
  if (!result.flagged_percent) {
    const std::string reason = "There is no interval: fewer than two beats.";
    result.reasons.push_back({"flagged_percent", reason});
    give_reason(result, of_intervals, reason);
    give_reason(result, of_differences, reason);
    return result;
  }
  const std::vector<NormalInterval> series = normal_series(intervals);
  const std::vector<double> steps = differences(series);
  result.nn_count = static_cast<int>(series.size());
  result.difference_count = static_cast<int>(steps.size());
  if (*result.flagged_percent > options.most_flagged_percent) {
    const std::string reason = fmt::format("{:.1f} % of the intervals are flagged, more than the {:g} % allowed.",
                                           *result.flagged_percent, options.most_flagged_percent);
    give_reason(result, of_intervals, reason);
    give_reason(result, of_differences, reason);
    return result;
  }

  const std::size_t fewest = static_cast<std::size_t>(std::max(options.fewest_intervals, 2));
  if (series.size() < fewest) {
    const std::string reason = fmt::format("{} normal-to-normal interval(s), fewer than {}.", series.size(), fewest);
    give_reason(result, of_intervals, reason);
    give_reason(result, of_differences, reason);
    return result;
  }
  std::vector<double> nn;
  nn.reserve(series.size());
  for (const NormalInterval& interval : series) nn.push_back(interval.ms);
  result.mean_nn_ms = mean_of(nn);
  result.sdnn_ms = sample_sd(nn);
  result.mean_hr_bpm = 60000.0 / *result.mean_nn_ms;
  warn_of_movement(series, result);
  result.min_nn_ms = *std::min_element(nn.begin(), nn.end());
  result.max_nn_ms = *std::max_element(nn.begin(), nn.end());

  if (steps.empty()) {
    give_reason(result, of_differences, "No two measured normal intervals touch.");
    return result;
  }
  double squares = 0.0;
  int large = 0;
  for (const double step : steps) {
    squares += step * step;
    // Whole microseconds, so that 850 - 800 is 50 however the beat times were rounded.
    if (std::llround(1000.0 * std::abs(step)) > large_difference_us) ++large;
  }
  const auto count = static_cast<double>(steps.size());
  result.rmssd_ms = std::sqrt(squares / count);
  result.nn50_count = large;
  result.pnn50_percent = 100.0 * large / count;
  if (steps.size() < 2)
    result.reasons.push_back({"sdsd_ms", "Only one difference; a spread needs two."});
  else
    result.sdsd_ms = sample_sd(steps);
  return result;
}

}  // namespace pulsewright
