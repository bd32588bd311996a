#include <algorithm>
#include <cmath>

#include "variability_parts.hpp"

namespace pulsewright {

namespace {

constexpr double ms_per_minute = 60000.0;

/// Lowest and highest mean rate over runs of touching intervals that last at least `window`, each no longer than it must be.
void extreme_rates(const std::vector<NormalInterval>& series, Seconds window, Variability& result) {
  const double needed = 1000.0 * window.value();
  std::size_t from = 0;
  double sum = 0.0;
  for (std::size_t to = 0; to < series.size(); ++to) {
    if (!series[to].touches_last) {
      from = to;
      sum = 0.0;
    }
    sum += series[to].ms;
    while (sum - series[from].ms >= needed) sum -= series[from++].ms;
    if (sum < needed) continue;
    const double bpm = ms_per_minute * static_cast<double>(to - from + 1) / sum;
    result.lowest_hr_bpm = std::min(result.lowest_hr_bpm.value_or(bpm), bpm);
    result.highest_hr_bpm = std::max(result.highest_hr_bpm.value_or(bpm), bpm);
  }
  if (!result.lowest_hr_bpm)
    refuse(result.reasons, {"lowest_hr_bpm", "highest_hr_bpm"},
           "No run of intervals is as long as the window of the extremes.");
}

}  // namespace

void interval_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result) {
  result.mean_nn_ms = mean_of(series.nn);
  result.sdnn_ms = sample_sd(series.nn);
  result.cv_percent = 100.0 * *result.sdnn_ms / *result.mean_nn_ms;
  result.mean_hr_bpm = ms_per_minute / *result.mean_nn_ms;
  result.min_nn_ms = *std::min_element(series.nn.begin(), series.nn.end());
  result.max_nn_ms = *std::max_element(series.nn.begin(), series.nn.end());
  std::vector<double> rates;
  rates.reserve(series.nn.size());
  for (const double ms : series.nn) rates.push_back(ms_per_minute / ms);
  result.sd_hr_bpm = sample_sd(rates);
  extreme_rates(series.intervals, options.extremes_window, result);
}

void refuse_intervals(Variability& result, const std::string& why) {
  refuse(result.reasons,
         {"mean_nn_ms", "sdnn_ms", "mean_hr_bpm", "min_nn_ms", "max_nn_ms", "cv_percent", "sd_hr_bpm", "lowest_hr_bpm",
          "highest_hr_bpm"},
         why);
}

}  // namespace pulsewright
