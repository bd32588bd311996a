#include "pair_sums.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {
namespace {

/// Spread below this share of the squares it is the difference of is rounding.
constexpr double rounding_share = 1e-12;

}  // namespace

void PairSums::add(const PairedValue& pair) {
  const double x = pair.reference - centre_, y = pair.test - centre_, d = pair.test - pair.reference;
  n_ += 1;
  x_ += x;
  y_ += y;
  xx_ += x * x;
  yy_ += y * y;
  xy_ += x * y;
  absolute_ += std::abs(d);
  squares_ += d * d;
  if (pair.reference > 0)
    relative_ += std::abs(d) / pair.reference;
  else
    not_positive_ += 1;
  within_5_ += std::abs(d) <= 5 ? 1 : 0;
  within_10_ += std::abs(d) <= 10 ? 1 : 0;
  within_ec13_ += std::abs(d) <= std::max(ec13_least, ec13_fraction * pair.reference) ? 1 : 0;
  if (pair.low && pair.high) {
    with_interval_ += 1;
    covered_ += *pair.low <= pair.reference && pair.reference <= *pair.high ? 1 : 0;
    width_ += *pair.high - *pair.low;
  }
}

void PairSums::add(const PairSums& other) {
  n_ += other.n_;
  x_ += other.x_;
  y_ += other.y_;
  xx_ += other.xx_;
  yy_ += other.yy_;
  xy_ += other.xy_;
  absolute_ += other.absolute_;
  relative_ += other.relative_;
  squares_ += other.squares_;
  not_positive_ += other.not_positive_;
  within_5_ += other.within_5_;
  within_10_ += other.within_10_;
  within_ec13_ += other.within_ec13_;
  with_interval_ += other.with_interval_;
  covered_ += other.covered_;
  width_ += other.width_;
}

std::optional<double> PairSums::mean_absolute_percent() const {
  if (not_positive_ > 0) return std::nullopt;
  return 100 * relative_ / n_;
}

double PairSums::root_mean_square() const { return std::sqrt(squares_ / n_); }

std::optional<double> PairSums::covers_percent() const {
  if (!(with_interval_ > 0)) return std::nullopt;
  return 100 * covered_ / with_interval_;
}

std::optional<double> PairSums::mean_width() const {
  if (!(with_interval_ > 0)) return std::nullopt;
  return width_ / with_interval_;
}

PairSums::Spread PairSums::spread() const {
  const auto clean = [](double value, double of) { return std::abs(value) <= rounding_share * of ? 0.0 : value; };
  const double size = std::max(xx_, yy_);
  return {clean(xx_ - x_ * x_ / n_, size), clean(yy_ - y_ * y_ / n_, size), clean(xy_ - x_ * y_ / n_, size)};
}

std::optional<double> PairSums::correlation() const {
  const Spread s = spread();
  if (!(s.xx > 0) || !(s.yy > 0)) return std::nullopt;
  return std::clamp(s.xy / std::sqrt(s.xx * s.yy), -1.0, 1.0);
}

std::optional<double> PairSums::concordance(Moments moments) const {
  const Spread s = spread();
  if (!(s.xx > 0) && !(s.yy > 0)) return std::nullopt;
  const double divisor = moments == Moments::population ? n_ : n_ - 1;
  const double b = bias();
  return 2 * s.xy / divisor / ((s.xx + s.yy) / divisor + b * b);
}

std::optional<double> PairSums::trend_slope() const {
  const Spread s = spread();
  const double of_means = (s.xx + 2 * s.xy + s.yy) / 4;
  if (!(of_means > rounding_share * (s.xx + s.yy))) return std::nullopt;
  return (s.yy - s.xx) / 2 / of_means;
}

}  // namespace pulsewright
