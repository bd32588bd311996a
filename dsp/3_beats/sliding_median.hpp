/// The median of a window that moves along a series.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace pulsewright::beats_stage {

/// Keeps the window sorted: a step of the window moves the values between the one that leaves and the one that comes, instead of selecting from all of them.
/// Meant for windows of some tens of values. The series must outlive it and hold no NaN.
template <class Number>
class SlidingMedian {
 public:
  explicit SlidingMedian(const std::vector<Number>& series) : series_(series) {}

  /// Median of series [first, last), the upper one of an even number. `first < last`, and neither is smaller than at the call before.
  Number over(std::size_t first, std::size_t last) {
    while (first_ < std::min(first, last_) && last_ < last) replace(series_[first_++], series_[last_++]);
    for (; last_ < last; ++last_) {
      const Number value = series_[last_];
      sorted_.insert(std::upper_bound(sorted_.begin(), sorted_.end(), value), value);
    }
    for (; first_ < first; ++first_) sorted_.erase(std::lower_bound(sorted_.begin(), sorted_.end(), series_[first_]));
    return sorted_[sorted_.size() / 2];
  }

 private:
  // Puts one value in the place of another.
  void replace(Number old, Number fresh) {
    std::size_t place = 0;
    for (const Number value : sorted_) place += value < old ? 1 : 0;
    for (; place + 1 < sorted_.size() && sorted_[place + 1] < fresh; ++place) sorted_[place] = sorted_[place + 1];
    for (; place > 0 && sorted_[place - 1] > fresh; --place) sorted_[place] = sorted_[place - 1];
    sorted_[place] = fresh;
  }

  const std::vector<Number>& series_;
  std::vector<Number> sorted_;
  std::size_t first_ = 0, last_ = 0;
};

}  // namespace pulsewright::beats_stage
