/// What intervals are to be expected around each place of a series, and how far normal ones stray.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace pulsewright {

/// Expected intervals around an event and the threshold there, in ms.
struct LocalLevel {
  double before = 0;     ///< median of the usable intervals just before
  double after = 0;      ///< median of the usable intervals just after
  double threshold = 0;  ///< a normal interval lies closer than this to the range between the two
};

/// How far `value` lies outside the range between `before` and `after`; 0 inside.
[[nodiscard]] double distance_to_range(double value, const LocalLevel& level);

/// Levels of a series of n intervals. Boundary i lies before interval i; there are n + 1 of them.
///   before(i): median of up to `level_neighbours` usable intervals with an index below i; when there are none, after(i).
///   after(i): the same from index i on.
class LocalLevels {
 public:
  /// `usable[i]` says whether interval i may be learnt from. There must be at least one usable interval.
  /// Keeps a view of `intervals_ms`.
  LocalLevels(std::span<const double> intervals_ms, const std::vector<bool>& usable);

  [[nodiscard]] double before(std::size_t boundary) const { return before_[boundary]; }
  [[nodiscard]] double after(std::size_t boundary) const { return after_[boundary]; }
  /// Level and threshold for an event that takes the intervals [first, last).
  [[nodiscard]] LocalLevel around(std::size_t first, std::size_t last) const {
    return {before_[first], after_[last], threshold_[first]};
  }
  /// Half the difference of interval i + 1 and interval i, less what the neighbours on either side suggest for it, in ms: what a beat at the
  /// wrong place adds to one and takes from the other. Breathing and drifts leave little in it. A neighbour that is not usable, or strays itself,
  /// speaks with the level there. Nothing in the last place.
  [[nodiscard]] std::optional<double> seesaw(std::size_t i) const;
  /// What the neighbours of the pair i, i + 1 suggest for its mean, in ms.
  [[nodiscard]] double between_neighbours(std::size_t i) const;
  /// A normal pair of intervals seesaws by less than this, in ms.
  [[nodiscard]] double seesaw_threshold(std::size_t boundary) const { return seesaw_threshold_[boundary]; }

 private:
  /// Interval `i` as a neighbour: itself when usable, kept within the threshold of the range around it.
  [[nodiscard]] double as_neighbour(std::size_t i) const;

  std::span<const double> intervals_ms_;
  std::vector<bool> usable_;
  std::vector<double> before_;
  std::vector<double> after_;
  std::vector<double> threshold_;
  std::vector<double> seesaw_threshold_;
};

}  // namespace pulsewright
