/// Sums over pairs from which the measures of error and correlation follow. Sums of people add up, which is what makes a bootstrap over people cheap.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {

class PairSums {
 public:
  /// Values are summed around `centre` so that digits are kept.
  explicit PairSums(double centre = 0) : centre_(centre) {}

  void add(const PairedValue& pair);
  /// Adds sums with the same centre.
  void add(const PairSums& other);

  [[nodiscard]] double count() const { return n_; }
  [[nodiscard]] double bias() const { return (y_ - x_) / n_; }
  [[nodiscard]] double mean_absolute() const { return absolute_ / n_; }
  /// Nothing when a reference is zero or less.
  [[nodiscard]] std::optional<double> mean_absolute_percent() const;
  [[nodiscard]] double root_mean_square() const;
  [[nodiscard]] double within_5_percent() const { return 100 * within_5_ / n_; }
  [[nodiscard]] double within_10_percent() const { return 100 * within_10_ / n_; }
  [[nodiscard]] double within_ec13_percent() const { return 100 * within_ec13_ / n_; }
  [[nodiscard]] double with_interval() const { return with_interval_; }
  [[nodiscard]] std::optional<double> covers_percent() const;
  [[nodiscard]] std::optional<double> mean_width() const;
  /// Pearson's r; nothing when a series has no spread.
  [[nodiscard]] std::optional<double> correlation() const;
  [[nodiscard]] std::optional<double> concordance(Moments moments) const;
  /// Slope of differences on means; nothing when the means have no spread.
  [[nodiscard]] std::optional<double> trend_slope() const;

 private:
  struct Spread {
    double xx = 0, yy = 0, xy = 0;
  };
  [[nodiscard]] Spread spread() const;

  double centre_;
  double n_ = 0, x_ = 0, y_ = 0, xx_ = 0, yy_ = 0, xy_ = 0;
  double absolute_ = 0, relative_ = 0, squares_ = 0, not_positive_ = 0;
  double within_5_ = 0, within_10_ = 0, within_ec13_ = 0;
  double with_interval_ = 0, covered_ = 0, width_ = 0;
};

}  // namespace pulsewright
