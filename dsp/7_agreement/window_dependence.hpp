/// How far neighbouring values of a series depend on each other, and what that leaves of their number.
#pragma once

#include <span>
#include <vector>

namespace pulsewright {

/// Autocorrelation that several series share. Neighbouring windows of one heart are no independent
/// measurements: those that overlap share time, and a sensor that has lost the pulse stays lost.
class WindowDependence {
 public:
  /// Autocorrelation pooled over people, each series around its own mean and in units of its own SD,
  /// with what short series lose given back (Kendall 1954, Biometrika 41:403). Lags up to the first
  /// at which it falls below 0.05, half of the longest series, or 500.
  explicit WindowDependence(std::span<const std::vector<double>> people);

  /// By how much the variance of a mean of `count` values exceeds that of independent ones. At most
  /// 0.8 `count`.
  [[nodiscard]] double inflation(std::size_t count) const;
  /// Degrees of freedom of a variance around the mean of `count` values, at least 1 (Bartlett 1946,
  /// J R Stat Soc Suppl 8:27: the squares of the autocorrelations count).
  [[nodiscard]] double degrees(std::size_t count) const;
  /// Variance of the values, from their squares around their own mean. `count` is 2 or more.
  [[nodiscard]] double variance(double squares, std::size_t count) const;

 private:
  std::vector<double> at_lag_;  ///< from lag 1
};

}  // namespace pulsewright
