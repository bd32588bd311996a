/// When the device takes its samples, in true time and by its own clock.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

class SampleTimes {
 public:
  /// round(duration * rate) samples.
  explicit SampleTimes(const Scenario& scenario);

  [[nodiscard]] std::size_t size() const { return size_; }
  /// True moment of sample `i`.
  [[nodiscard]] double true_time(std::size_t i) const {
    const double device = static_cast<double>(i) / rate_;
    return device / speed_ + (jitter_.empty() ? 0.0 : jitter_[i]);
  }
  /// Samples [first, last) that may lie inside the true times [from, to]; one more on either side because of the jitter.
  [[nodiscard]] std::pair<std::size_t, std::size_t> range(double from, double to) const;
  /// True time -> the recording's clock, and back.
  [[nodiscard]] double shown(double true_time) const { return true_time * speed_; }
  [[nodiscard]] double unshown(double recording_time) const { return recording_time / speed_; }
  /// The stamps that the file states; empty when it states only the rate.
  [[nodiscard]] const std::vector<double>& stamps() const { return stamps_; }

 private:
  std::size_t size_ = 0;
  double rate_ = 1;
  double speed_ = 1;  ///< seconds of the device's clock in a true second
  std::vector<double> jitter_;
  std::vector<double> stamps_;
};

}  // namespace pulsewright::simulation
