#include "elementary.hpp"

#include <cmath>

namespace pulsewright::simulation {

namespace {

// ln 2 in two parts (Cody & Waite 1980): k times the first is exact for the k that occur.
constexpr double ln2_high = 6.93147180369123816490e-01;
constexpr double ln2_low = 1.90821492927058770002e-10;

/// Taylor series of sine, |r| <= pi/4: the first term left out is r^17/17! < 5e-17.
double short_sine(double r) {
  const double q = r * r;
  double sum = 0.0;
  for (int k = 7; k >= 1; --k) sum = q / static_cast<double>(2 * k * (2 * k + 1)) * (1.0 - sum);
  return r * (1.0 - sum);
}

/// The same for cosine: the first term left out is r^18/18! < 3e-18.
double short_cosine(double r) {
  const double q = r * r;
  double sum = 0.0;
  for (int k = 8; k >= 1; --k) sum = q / static_cast<double>(2 * k * (2 * k - 1)) * (1.0 - sum);
  return 1.0 - sum;
}

}  // namespace

double exponential(double x) {
  if (x < -700.0) return 0.0;
  if (x > 700.0) x = 700.0;
  const double k = std::floor(x / 0.69314718055994530942 + 0.5);
  const double r = (x - k * ln2_high) - k * ln2_low;  // |r| <= 0.347: r^14/14! < 5e-18
  double sum = 1.0;
  for (int n = 13; n >= 1; --n) sum = 1.0 + r / static_cast<double>(n) * sum;
  return std::ldexp(sum, static_cast<int>(k));
}

double logarithm(double x) {
  int exponent = 0;
  double m = std::frexp(x, &exponent);  // [0.5, 1)
  if (m < 0.70710678118654752440) {
    m *= 2.0;
    --exponent;
  }
  // ln m = 2 artanh((m - 1)/(m + 1)), |s| <= 0.1716: s^25/25 < 3e-21
  const double s = (m - 1.0) / (m + 1.0);
  const double q = s * s;
  double sum = 0.0;
  for (int k = 11; k >= 1; --k) sum = q * (1.0 / static_cast<double>(2 * k + 1) + sum);
  const double k = static_cast<double>(exponent);
  return k * ln2_high + (2.0 * s * (1.0 + sum) + k * ln2_low);
}

double sine_of_turns(double turns) {
  const double x = turns - std::floor(turns);  // [0, 1], exact
  const double k = std::floor(4.0 * x + 0.5);  // nearest quarter turn
  const double r = 2.0 * pi * (x - 0.25 * k);  // |r| <= pi/4
  if (k == 1.0) return short_cosine(r);
  if (k == 2.0) return -short_sine(r);
  if (k == 3.0) return -short_cosine(r);
  return short_sine(r);
}

double power(double x, double p) { return exponential(p * logarithm(x)); }

double bell(double x) { return exponential(-0.5 * x * x); }

}  // namespace pulsewright::simulation
