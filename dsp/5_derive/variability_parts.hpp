/// The groups of measures that `variability` is made of. Each fills in its values and gives a reason for every one that stays absent.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "pulsewright/variability.hpp"

namespace pulsewright {

/// A corrected series as the measures need it.
struct NormalSeries {
  std::vector<NormalInterval> intervals;
  std::vector<double> nn;             ///< their values
  std::vector<double> first, second;  ///< pairs that touch, neither of them interpolated

  [[nodiscard]] Seconds length() const;  ///< from the first start to the last end; 0 when empty
};
[[nodiscard]] NormalSeries normal_series_of(const Intervals& intervals);

void refuse(std::vector<Reason>& reasons, std::initializer_list<const char*> measures, const std::string& why);
/// Whether `length` is as long as asked for, but for the part of a beat that is cut off at both ends.
[[nodiscard]] bool long_enough(Seconds length, Seconds needed);

/// Mean in the order of the series.
[[nodiscard]] double mean_of(const std::vector<double>& values);
/// Standard deviation with n - 1, in two passes; needs two values.
[[nodiscard]] double sample_sd(const std::vector<double>& values);

void interval_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result);
void difference_measures(const NormalSeries& series, Variability& result);
void long_term_measures(const NormalSeries& series, Variability& result);
void histogram_measures(const NormalSeries& series, Variability& result);
void frequency_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result);
void complexity_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result);

/// Adds `not_at_rest` where the rate says so; needs `mean_hr_bpm`.
void warn_of_movement(const NormalSeries& series, Variability& result);

/// The same reason for every measure of a group.
void refuse_intervals(Variability& result, const std::string& why);
void refuse_differences(Variability& result, const std::string& why);
void refuse_long_term(Variability& result, const std::string& why);
void refuse_histogram(Variability& result, const std::string& why);
void refuse_frequency(Variability& result, const std::string& why);
void refuse_complexity(Variability& result, const std::string& why);

}  // namespace pulsewright
