/// Stage 5b: normal-to-normal intervals -> how their variance spreads over frequency, by four estimators.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Intervals at the times of the beats that end them. Both of one length, times strictly rising.
struct TimedIntervals {
  std::vector<double> time_s;
  std::vector<double> ms;
};

/// A stretch of intervals on an even grid: sample i is at `start + i / rate`.
struct EvenStretch {
  Seconds start;
  Hertz rate{4.0};
  std::vector<double> ms;

  [[nodiscard]] Seconds length() const { return Seconds{static_cast<double>(ms.size()) / rate.value()}; }
};

/// Puts a corrected series on an even grid by natural cubic splines through (end of interval, interval). A hole of more than `longest_hole` between two
/// intervals ends a stretch; a stretch of fewer than three intervals is left out. Empty in, empty out.
[[nodiscard]] std::vector<EvenStretch> on_even_grid(std::span<const NormalInterval> series, Hertz rate = Hertz{4.0},
                                                    Seconds longest_hole = Seconds{5.0});

/// The slow trend of an even series by smoothness priors: the z that minimises |x - z|^2 + lambda^2 |second differences of z|^2
/// (Tarvainen et al. 2002, IEEE TBME 49:172). Solved in time linear in the length by a banded factorisation. What is left, x - z, is
/// a high-pass of gain L / (1 + L), L = lambda^2 (2 - 2 cos w)^2 at w radians a sample: at 4 Hz, lambda 500 halves 0.028 Hz. Fewer than
/// three samples are their own trend. Throws Error{contract} for a negative lambda.
[[nodiscard]] std::vector<double> smooth_trend(std::span<const double> values, double lambda);

/// A one-sided power density over frequency, on an even grid that starts at `first`.
struct PowerDensity {
  Hertz first;                             ///< of the first value
  Hertz step;                              ///< from one value to the next
  std::vector<double> density_ms2_per_hz;  ///< power of the cell around a frequency, over the step

  /// Power from `low` to `high` in ms2: each value stands for a cell of one step around it, cut off at 0 Hz and in the middle of the last.
  [[nodiscard]] double power_ms2(Hertz low, Hertz high) const;
  /// Where the density is highest from `low` to `high`, a parabola put through three values; nothing when no inner value is a maximum.
  [[nodiscard]] std::optional<Hertz> peak(Hertz low, Hertz high) const;
};

struct WelchOptions {
  Seconds segment{256.0};  ///< a shorter series is one segment
  double overlap = 0.5;    ///< of neighbouring segments, 0 to below 1
};

/// The averaged periodogram of segments, each with its mean removed and a Hann window applied (Welch 1967, IEEE Trans. Audio 15:70), over all
/// stretches that hold a whole segment; over the longest one where none does. The powers sum to the mean square of the windowed segments over that
/// of the window (Parseval). Throws Error{contract} for options out of range, rates that differ, or no stretch of eight samples.
[[nodiscard]] PowerDensity welch_spectrum(std::span<const EvenStretch> stretches, const WelchOptions& options = {});

/// Lomb-Scargle periodogram of uneven beats (Lomb 1976, Astrophys Space Sci 39:447; Scargle 1982, ApJ 263:835), without resampling, up to
/// half the mean rate of the beats, on a grid of 1 / (`oversampling` x length). Scaled so that a sinusoid of amplitude A has the power A^2 / 2, and for even beats
/// the total is the variance. Sums of sines and cosines by gridding with a Gaussian (Greengard & Lee 2004, SIAM Review 46:443) to 1e-10 of the largest, so
/// that time grows as n log n. Throws Error{contract} for fewer than four beats or times that do not rise.
[[nodiscard]] PowerDensity lomb_scargle_spectrum(const TimedIntervals& intervals, double oversampling = 2.0);

/// How the order of an autoregressive model is chosen: the one with the least of these, n samples, p the order, v the error of prediction.
enum class OrderCriterion {
  akaike,              ///< n ln v + 2 p (Akaike 1974, IEEE TAC 19:716)
  description_length,  ///< n ln v + p ln n (Rissanen 1978, Automatica 14:465)
  prediction_error,    ///< v (n + p) / (n - p) (Akaike 1970, Ann Inst Stat Math 22:203)
};

struct AutoregressiveOptions {
  std::optional<int> order;  ///< given: no criterion is asked
  OrderCriterion criterion = OrderCriterion::akaike;
  int highest_order = 30;
};

/// x[n] = sum a[k] x[n - k] + e[n], and what follows from it in closed form.
class AutoregressiveModel {
 public:
  /// Prediction coefficients a[1..p] and the variance of e. Poles outside the unit circle are mirrored into it, which leaves the spectrum as it is.
  AutoregressiveModel(std::span<const double> coefficients, double noise_variance, Hertz rate);

  [[nodiscard]] int order() const { return static_cast<int>(coefficients_.size()); }
  [[nodiscard]] const std::vector<double>& coefficients() const { return coefficients_; }
  [[nodiscard]] double noise_variance() const { return noise_variance_; }
  /// One-sided density at a frequency, in ms2/Hz.
  [[nodiscard]] double density_ms2_per_hz(Hertz at) const;
  /// Power from `low` to `high` (at most half the rate), integrated exactly through the poles, however narrow a peak is.
  [[nodiscard]] double power_ms2(Hertz low, Hertz high) const;
  /// The highest maximum of the density from `low` to `high`; nothing when there is none inside.
  [[nodiscard]] std::optional<Hertz> peak(Hertz low, Hertz high) const;

 private:
  struct Pole {
    double real, imaginary, weight_real, weight_imaginary;
  };
  [[nodiscard]] double power_below(double radians) const;

  std::vector<double> coefficients_;
  std::vector<Pole> poles_;
  double noise_variance_ = 0;
  Hertz rate_{1.0};
};

/// The model by Burg's recursion (Burg 1975, thesis, Stanford): its total power is the mean square of the series, its poles are inside the unit
/// circle. The mean of the series is removed first. Throws Error{contract} for fewer than eight samples or an order out of range; a constant series has order 0.
[[nodiscard]] AutoregressiveModel burg_model(const EvenStretch& series, const AutoregressiveOptions& options = {});
/// The same by the covariance method, least squares of forward and backward prediction (Marple 1980, IEEE Trans. ASSP 28:441), the noise then scaled
/// so that the total power is the mean square of the series.
[[nodiscard]] AutoregressiveModel covariance_model(const EvenStretch& series,
                                                   const AutoregressiveOptions& options = {});

}  // namespace pulsewright
