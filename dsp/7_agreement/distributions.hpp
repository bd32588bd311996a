/// Quantiles and tail probabilities of the distributions that intervals and tests need (Boost.Math, wrapped in one place).
#pragma once

namespace pulsewright {

/// The normal deviate between whose negative and itself 95 % lie.
inline constexpr double normal_95 = 1.959963984540054;
/// Multiple of the SD in limits of agreement (Bland & Altman 1999 use 1.96).
inline constexpr double limit_multiple = 1.96;

[[nodiscard]] double normal_quantile(double p);
[[nodiscard]] double normal_cdf(double z);
[[nodiscard]] double student_quantile(double p, double degrees);
/// Two-sided tail probability of |t| or more.
[[nodiscard]] double student_two_sided(double t, double degrees);
/// Probability of a value above `t`.
[[nodiscard]] double student_above(double t, double degrees);
[[nodiscard]] double noncentral_student_quantile(double p, double degrees, double noncentrality);
[[nodiscard]] double chi_squared_quantile(double p, double degrees);
[[nodiscard]] double fisher_quantile(double p, double numerator_degrees, double denominator_degrees);

}  // namespace pulsewright
