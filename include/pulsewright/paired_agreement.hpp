/// Stage 7: pairs of one quantity measured two ways -> how well the two agree. Unit-free: beats/min, ms, l/min.
///
/// `test - reference` is the difference everywhere, so that a positive bias reads "the test shows too much".
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/units.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

/// One occasion, measured both ways.
struct PairedValue {
  double reference = 0;
  double test = 0;
  std::size_t person = 0;                    ///< whose; any number that tells people apart
  std::size_t condition = 0;                 ///< doing what; any number that tells conditions apart
  Seconds time{};                            ///< when, on the reference's clock
  std::optional<double> low = std::nullopt;  ///< the test's own 95 % interval, where it gives one
  std::optional<double> high = std::nullopt;
};

/// A value and its 95 % interval (another level only where a comment says so).
struct Estimate {
  double value = 0;
  std::optional<double> low, high;
};

// ---------------------------------------------------------------------------------------------- limits of agreement

/// Bland & Altman's limits: bias - 1.96 SD and bias + 1.96 SD, between which 95 % of differences are expected to lie.
struct LimitsOfAgreement {
  Estimate bias;
  double sd = 0;  ///< of the differences (n - 1); for repeated measures the root of both variances together
  Estimate lower, upper;
};

/// Limits from differences that are independent of each other (Bland & Altman 1986, Lancet i:307). Intervals are exact for normal differences: Student's t
/// for the bias, the noncentral t distribution for each limit (Carkeet 2015, Optom Vis Sci 92:e71). Nothing for fewer than two differences. Differences all
/// the same: SD 0 and intervals of no width.
[[nodiscard]] std::optional<LimitsOfAgreement> limits_of_agreement(std::span<const double> differences);

/// Limits for several differences a person, the true value varying (Bland & Altman 1999, Stat Methods Med Res 8:135, section 5.3; 2007, J Biopharm Stat
/// 17:571): a one-way analysis of variance by person gives the variance between and within people, also for unequal numbers.
struct RepeatedLimits {
  LimitsOfAgreement limits;
  std::size_t people = 0;
  double between_variance = 0;  ///< of people's own biases; 0 where the estimate came out negative
  double within_variance = 0;   ///< of differences around a person's bias
  double mean_square_between = 0, mean_square_within = 0;
};

/// The bias is the mean over all differences. Intervals: the bias with Student's t on people - 1 degrees of freedom; the limits by recovery of
/// variances (Zou 2013, Stat Methods Med Res 22:630), which is an approximation where numbers are unequal. Nothing for fewer than two people, or for as many
/// people as differences.
[[nodiscard]] std::optional<RepeatedLimits> repeated_limits(std::span<const PairedValue> pairs);

/// The two deviate from each other in proportion to what they measure, or scatter more where it is large.
struct TrendOfDifferences {
  Estimate slope;  ///< of the differences on the means, per unit
  double intercept = 0;
  double p = 1;           ///< two-sided, that the slope is 0
  Estimate spread_slope;  ///< of the absolute residuals on the means
  double spread_intercept = 0;
  double spread_p = 1;

  /// Limits that follow the mean (Bland & Altman 1999, section 3.2): intercept + slope x, and 1.96 sqrt(pi / 2) times the fitted absolute residual to
  /// either side.
  [[nodiscard]] double bias_at(double mean) const;
  [[nodiscard]] double half_width_at(double mean) const;
};

/// Least squares of the differences and of their absolute residuals on the means. Treats pairs as independent: several a person make p too small.
/// Nothing for fewer than three pairs or means that are all the same.
[[nodiscard]] std::optional<TrendOfDifferences> trend_of_differences(std::span<const PairedValue> pairs);

/// Limits on the logarithmic scale, as ratios test / reference (Bland & Altman 1999, section 3.1).
struct RatioLimits {
  Estimate ratio, lower, upper;
};
/// Nothing for fewer than two pairs, or when a value is not positive.
[[nodiscard]] std::optional<RatioLimits> ratio_limits(std::span<const PairedValue> pairs);

// ---------------------------------------------------------------------------------------------- correlation of two kinds

/// Pearson's r with Fisher's interval. It says how well the two go together, not how well they agree: a sensor that reads twice the rate has r = 1, and r grows
/// with the range of rates in the study. Nothing for fewer than four pairs or a series without spread.
[[nodiscard]] std::optional<Estimate> pearson(std::span<const PairedValue> pairs);

/// Which moments the concordance is made of: Lin's own divide by n.
enum class Moments { population, sample };
/// Lin's concordance correlation (Lin 1989, Biometrics 45:255). Nothing for fewer than two pairs; 1 where all values are the same on both sides, nothing where
/// only both spreads are zero.
[[nodiscard]] std::optional<double> concordance(std::span<const PairedValue> pairs,
                                                Moments moments = Moments::population);

/// Intraclass correlations of single measurements, two ways of measuring each occasion (Shrout & Fleiss 1979, Psychol Bull 86:420; intervals and names in
/// brackets of McGraw & Wong 1996, Psychol Methods 1:30).
struct IntraclassCorrelations {
  Estimate one_way;      ///< ICC(1,1) [ICC(1)]
  Estimate agreement;    ///< ICC(2,1) [ICC(A,1)]: ways of measuring are random, their bias counts
  Estimate consistency;  ///< ICC(3,1) [ICC(C,1)]: their bias does not count
};
/// Nothing for fewer than three pairs or values without any spread.
[[nodiscard]] std::optional<IntraclassCorrelations> intraclass(std::span<const PairedValue> pairs);

/// Twice the root mean square of the within-person SD of two readings by one method: Bland & Altman's 1986 repeatability coefficient is
/// 2 sqrt(sum d^2 / n). Nothing for no pairs.
[[nodiscard]] std::optional<double> repeatability(std::span<const double> first, std::span<const double> second);

// ---------------------------------------------------------------------------------------------- equivalence

/// Two one-sided tests (Schuirmann 1987, J Pharmacokinet Biopharm 15:657): the bias lies within +- margin.
struct Equivalence {
  double margin = 0;
  Estimate bias;            ///< its interval is the 90 % one that the test uses
  double p = 1;             ///< the larger of the two
  bool equivalent = false;  ///< p < 0.05
  std::size_t units = 0;    ///< independent means that the test rests on
};
/// On people's mean differences where there are two people or more, else on the differences. Nothing for fewer than two of them. Throws Error{contract}
/// when the margin is not positive.
[[nodiscard]] std::optional<Equivalence> equivalence(std::span<const PairedValue> pairs, double margin);

// ---------------------------------------------------------------------------------------------- all of it

/// ANSI/AAMI EC13 [from memory]: a rate is right within 10 % or 5 beats/min, whichever is greater.
inline constexpr double ec13_fraction = 0.10;
inline constexpr double ec13_least = 5.0;

struct PairedOptions {
  double margin = 5.0;           ///< of the equivalence test, in the unit of the values
  std::uint64_t seed = 1;        ///< of the bootstrap
  std::size_t resamples = 2000;  ///< of the bootstrap; 0: none
};

/// Everything about one set of pairs. A number that the pairs cannot give is absent and named in `reasons`.
///
/// Intervals of what is not named an exact one come from a bootstrap that draws people, not pairs, with replacement; with the wider percentiles that make up for
/// few people (Hesterberg 2015, Am Stat 69:371). They need at least five people.
struct PairedAgreement {
  std::size_t pairs = 0, people = 0;
  double reference_mean = 0, test_mean = 0;
  double reference_low = 0, reference_high = 0;  ///< range of the reference

  std::optional<LimitsOfAgreement> plain;  ///< as if all pairs were independent
  std::optional<RepeatedLimits> repeated;  ///< several pairs a person
  std::optional<Estimate> bias;            ///< bootstrap interval; as are those that follow
  std::optional<Estimate> mean_absolute_error, mean_absolute_percentage_error, root_mean_square_error;
  std::optional<Estimate> within_5_percent, within_10_percent, within_ec13_percent;  ///< share of pairs
  std::optional<Estimate> correlation, concordance_population;
  std::optional<Estimate> trend_slope;  ///< that of `trend`, with the interval of people
  std::optional<double> concordance_sample;
  std::optional<TrendOfDifferences> trend;
  std::optional<RatioLimits> ratio;
  std::optional<IntraclassCorrelations> intraclass;
  std::optional<Equivalence> equivalence;

  std::size_t with_interval = 0;                    ///< pairs whose test gave its own 95 % interval
  std::optional<Estimate> interval_covers_percent;  ///< share of those that hold the reference
  std::optional<double> mean_interval_width;

  std::vector<Reason> reasons;
};

/// Measures everything above. No pairs: everything absent. Throws Error{contract} when a value is not finite.
[[nodiscard]] PairedAgreement paired_agreement(std::span<const PairedValue> pairs, const PairedOptions& options = {});

// ---------------------------------------------------------------------------------------------- planning

/// How many independent differences make the 95 % interval of a limit of agreement as narrow as wanted.
struct LimitsPlan {
  double sd = 0;          ///< of the differences, expected
  double half_width = 0;  ///< wanted: half the length of the interval of a limit
  std::size_t needed = 0;
  std::size_t approximate = 0;  ///< by 3 sd^2 / n for the variance of a limit (Bland & Altman 1986)
};
/// The smallest number whose exact interval (see `limits_of_agreement`) has that half width or less when the sample SD is `sd`. Throws Error{contract} unless
/// both are positive, and when more than a million would be needed.
[[nodiscard]] LimitsPlan plan_limits(double sd, double half_width);

/// The half width that `count` independent differences give.
[[nodiscard]] double limits_half_width(double sd, std::size_t count);

}  // namespace pulsewright
