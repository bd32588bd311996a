/// What intervals are to be expected around each place of a series, and how far a normal one strays.
#pragma once

#include <span>
#include <vector>

namespace pulsewright {

/// Expected intervals at one boundary of the series and the threshold there, in ms.
struct LocalLevel {
  double before = 0;     ///< median of the usable intervals just before
  double after = 0;      ///< median of the usable intervals just after
  double threshold = 0;  ///< a normal interval lies closer than this to the range between the two
};

/// Levels of a series of `n` intervals. Boundary i lies before interval i; there are n + 1 of them.
///   before(i): median of up to five usable intervals with an index below i; when there are none, after(i).
///   after(i): the same from index i on.
class LocalLevels {
 public:
  /// `usable[i]` says whether interval i may be learnt from. There must be at least one usable interval.
  LocalLevels(std::span<const double> intervals_ms, const std::vector<bool>& usable);

  [[nodiscard]] double before(std::size_t boundary) const { return before_[boundary]; }
  [[nodiscard]] double after(std::size_t boundary) const { return after_[boundary]; }
  /// Level and threshold for an event that takes the intervals [first, last).
  [[nodiscard]] LocalLevel around(std::size_t first, std::size_t last) const {
    return {before_[first], after_[last], threshold_[first]};
  }

 private:
  std::vector<double> before_;
  std::vector<double> after_;
  std::vector<double> threshold_;
};

/// How far `value` lies outside the range between `before` and `after`; 0 inside.
[[nodiscard]] double distance_to_range(double value, const LocalLevel& level);

}  // namespace pulsewright
