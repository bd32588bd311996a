/// The course of a rate under constant demand: level + slope t + size e^(-t / tau), by least squares for a few fixed tau.
#pragma once

#include <array>

namespace pulsewright {

/// Time constants that a piece of the course may have, s: they span what is found in young and older people at the start and the end of exercise; in between
/// the error of the next one is far below a beat/min.
inline constexpr std::array course_taus_s{8.0, 15.0, 25.0, 40.0, 65.0, 110.0};

struct CourseFit {
  double level = 0, slope = 0, size = 0, tau = course_taus_s.front();
  double residual = 0;  ///< sum of squares
};

/// Sums over the points of one piece, which grow point by point in time order.
class CourseSums {
 public:
  /// Times are counted from `start`, rates from `offset`, so that the sums stay small.
  CourseSums(double start, double offset) : start_(start), offset_(offset) {}

  void add(double time, double bpm);
  [[nodiscard]] int count() const { return count_; }
  /// The best fit; with fewer than five points a constant.
  [[nodiscard]] CourseFit best() const;
  /// The best fit without a slope and with a tau of at most `longest_tau_s`, so that nothing is carried far beyond what was seen.
  [[nodiscard]] CourseFit best_level(double longest_tau_s) const;

 private:
  struct Exponential {
    double e = 0, ee = 0, et = 0, er = 0;
  };
  [[nodiscard]] CourseFit constant() const;
  [[nodiscard]] CourseFit fit(std::size_t which, bool with_slope) const;

  double start_, offset_;
  int count_ = 0;
  double t_ = 0, tt_ = 0, r_ = 0, rr_ = 0, tr_ = 0;
  std::array<Exponential, course_taus_s.size()> exponentials_;
};

}  // namespace pulsewright
