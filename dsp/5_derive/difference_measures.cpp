#include <algorithm>
#include <cmath>
#include <numbers>

#include "expected_differences.hpp"
#include "variability_parts.hpp"

namespace pulsewright {

namespace {

/// NN50 counts differences of more than this (Task Force of ESC/NASPE 1996, Circulation 93:1043), and NN20 those of more than 20 ms (Mietus et al. 2002,
/// Heart 88:378 [from memory]). In whole microseconds, so that 850 - 800 is 50 however the beat times were rounded.
constexpr std::int64_t large_difference_us = 50'000;
constexpr std::int64_t fair_difference_us = 20'000;

struct Moments {
  double root_mean_square = 0;
  double sd = 0;  ///< n - 1
};

/// Of the measured steps and those that are only expected.
Moments moments(const std::vector<double>& steps, const ExpectedDifferences& expected) {
  const auto count = static_cast<double>(steps.size() + expected.count);
  double sum = expected.sum, squares = expected.squares;
  for (const double step : steps) {
    sum += step;
    squares += step * step;
  }
  const double mean = sum / count;
  double about = expected.squares - 2.0 * mean * expected.sum + static_cast<double>(expected.count) * mean * mean;
  for (const double step : steps) about += (step - mean) * (step - mean);
  return {std::sqrt(squares / count), std::sqrt(std::max(0.0, about) / (count - 1.0))};
}

}  // namespace

void difference_measures(const NormalSeries& series, Variability& result) {
  if (series.first.empty()) return refuse_differences(result, "No two measured normal intervals touch.");
  std::vector<double> steps;
  int large = 0, fair = 0;
  for (std::size_t i = 0; i < series.first.size(); ++i) {
    const double step = series.second[i] - series.first[i];
    steps.push_back(step);
    const std::int64_t us = std::llround(1000.0 * std::abs(step));
    large += us > large_difference_us;
    fair += us > fair_difference_us;
  }
  const auto count = static_cast<double>(steps.size());
  const Moments all = moments(steps, expected_differences(series));
  result.rmssd_ms = all.root_mean_square;
  result.nn50_count = large;
  result.pnn50_percent = 100.0 * large / count;
  result.nn20_count = fair;
  result.pnn20_percent = 100.0 * fair / count;

  const std::optional<Poincare> cloud = poincare(series.first, series.second);
  if (!cloud) {
    refuse(result.reasons, {"sdsd_ms", "sd1_ms", "sd2_ms", "ellipse_area_ms2", "sd1_sd2_ratio", "lengthening_percent"},
           "Only one difference; a spread needs two.");
    return;
  }
  result.sdsd_ms = all.sd;
  const double sd1 = all.sd / std::numbers::sqrt2;
  result.sd1_ms = sd1;
  result.sd2_ms = cloud->sd2_ms;
  result.ellipse_area_ms2 = std::numbers::pi * sd1 * cloud->sd2_ms;
  if (cloud->sd2_ms > 0.0)
    result.sd1_sd2_ratio = sd1 / cloud->sd2_ms;
  else
    refuse(result.reasons, {"sd1_sd2_ratio"}, "SD2 is zero.");
  result.lengthening_percent = cloud->lengthening_percent;
  if (!cloud->lengthening_percent) refuse(result.reasons, {"lengthening_percent"}, "All differences are zero.");
}

void refuse_differences(Variability& result, const std::string& why) {
  refuse(result.reasons,
         {"rmssd_ms", "sdsd_ms", "nn50_count", "pnn50_percent", "nn20_count", "pnn20_percent", "sd1_ms", "sd2_ms",
          "ellipse_area_ms2", "sd1_sd2_ratio", "lengthening_percent"},
         why);
}

}  // namespace pulsewright
