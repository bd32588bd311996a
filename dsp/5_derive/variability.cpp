#include "pulsewright/variability.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "variability_parts.hpp"

namespace pulsewright {

namespace {

void refuse_all(Variability& result, const std::string& why) {
  refuse_intervals(result, why);
  refuse_differences(result, why);
  refuse_long_term(result, why);
  refuse_histogram(result, why);
  refuse_frequency(result, why);
  refuse_complexity(result, why);
}

std::string too_much_flagged(double share, double most) {
  return fmt::format("{:.1f} % of the intervals are flagged, more than the {:g} % allowed.", share, most);
}

}  // namespace

Variability variability(const Intervals& intervals, const VariabilityOptions& options) {
  Variability result;
  result.provenance = intervals.provenance;
  result.warnings = intervals.warnings;
  result.power.method = options.spectrum.principal;
  result.hf_band = options.spectrum.bands.hf;
  result.flagged_percent = intervals.flagged_percent();
  if (!result.flagged_percent) {
    const std::string why = "There is no interval: fewer than two beats.";
    refuse(result.reasons, {"flagged_percent"}, why);
    refuse_all(result, why);
    return result;
  }
  const NormalSeries series = normal_series_of(intervals);
  const double flagged = *result.flagged_percent;
  result.nn_count = static_cast<int>(series.nn.size());
  result.difference_count = static_cast<int>(series.first.size());
  if (flagged > options.most_flagged_percent) {
    refuse_all(result, too_much_flagged(flagged, options.most_flagged_percent));
    return result;
  }
  const auto fewest = static_cast<std::size_t>(std::max(options.fewest_intervals, 2));
  if (series.nn.size() < fewest) {
    refuse_all(result, fmt::format("Normal-to-normal intervals: {}, fewer than {}.", series.nn.size(), fewest));
    return result;
  }

  interval_measures(series, options, result);
  warn_of_movement(series, result);
  difference_measures(series, result);
  long_term_measures(series, result);
  histogram_measures(series, result);
  if (flagged > options.most_flagged_of_course_percent) {
    const std::string why = too_much_flagged(flagged, options.most_flagged_of_course_percent);
    refuse_frequency(result, why);
    refuse_complexity(result, why);
    return result;
  }
  frequency_measures(series, options, result);
  complexity_measures(series, options, result);
  return result;
}

}  // namespace pulsewright
