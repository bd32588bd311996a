// Against values of mpmath (tests/golden/make_elementary.py), of definitions, and of IEEE 754 at
// the edges.
#include "elementary/elementary.hpp"

#include <gtest/gtest.h>

#include <charconv>
#include <cmath>
#include <fstream>
#include <functional>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>

namespace pulsewright::elementary {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double unit_in_last_place(double x) { return std::nextafter(std::abs(x), infinity) - std::abs(x); }

using Row = std::vector<double>;
using Function = std::function<double(const Row&)>;
Function of_one(double (*f)(double)) {
  return [f](const Row& row) { return f(row[0]); };
}
Function of_two(double (*f)(double, double)) {
  return [f](const Row& row) { return f(row[0], row[1]); };
}

const std::map<std::string, Function> functions{{"log", of_one(log)},
                                                {"log2", of_one(log2)},
                                                {"log10", of_one(log10)},
                                                {"exp", of_one(exp)},
                                                {"pow", of_two(pow)},
                                                {"sin", of_one(sin)},
                                                {"cos", of_one(cos)},
                                                {"tan", of_one(tan)},
                                                {"atan", of_one(atan)},
                                                {"atan2", of_two(atan2)},
                                                {"acos", of_one(acos)},
                                                {"sinh", of_one(sinh)},
                                                {"tanh", of_one(tanh)},
                                                {"atanh", of_one(atanh)},
                                                {"erfc", of_one(erfc)},
                                                {"hypot", of_two(hypot)},
                                                {"sine_of_turns", of_one(sine_of_turns)}};

TEST(Elementary, EveryFunctionStaysWithinItsStatedErrorOfMpmath) {
  std::ifstream file(PULSEWRIGHT_SOURCE_DIR "/tests/golden/elementary.json");
  const auto golden = nlohmann::json::parse(file);
  ASSERT_EQ(golden.size(), functions.size());
  for (const auto& [name, function] : functions) {
    const double allowed = name == "erfc" ? 4.0 : name == "pow" ? 0.51 : 0.5001;
    ASSERT_EQ(golden.at(name).size(), 80U);
    for (const auto& entry : golden.at(name)) {
      const Row row = entry.get<Row>();
      const double nearest = row[row.size() - 2], rest = row.back();
      const double error = (function(row) - nearest) / unit_in_last_place(nearest) - rest;
      EXPECT_LE(std::abs(error), allowed) << name << "(" << row[0] << ", ...)";
    }
  }
}

TEST(Elementary, NearlyEveryResultIsTheNearestDouble) {
  std::ifstream file(PULSEWRIGHT_SOURCE_DIR "/tests/golden/elementary.json");
  const auto golden = nlohmann::json::parse(file);
  for (const auto& [name, function] : functions) {
    if (name == "erfc") continue;
    int others = 0;
    for (const auto& entry : golden.at(name)) {
      const Row row = entry.get<Row>();
      others += function(row) != row[row.size() - 2];
    }
    EXPECT_LE(others, name == "pow" ? 1 : 0) << name;
  }
}

TEST(Elementary, FloatsAreTheNearestToTheDoubleResult) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> exponents(-60, 60);
  int others = 0;
  for (int i = 0; i < 20000; ++i) {
    const auto x = static_cast<float>(exponents(random));
    const float large = exp(x);
    others += large != static_cast<float>(exp(static_cast<double>(x)));
    others += log(large) != static_cast<float>(log(static_cast<double>(large)));
  }
  EXPECT_EQ(others, 0);
  EXPECT_EQ(pow(2.0F, 10.0F), 1024.0F);
}

TEST(Elementary, ExactValuesAreExact) {
  for (int n = -22; n <= 22; ++n) {
    const std::string text = "1e" + std::to_string(n);
    double power = 0;
    std::from_chars(text.data(), text.data() + text.size(), power);
    EXPECT_EQ(pow(10.0, n), power) << n;
    EXPECT_EQ(log10(power), n) << n;
    EXPECT_EQ(log2(std::ldexp(1.0, n)), n);
    EXPECT_EQ(pow(2.0, n), std::ldexp(1.0, n));
  }
  EXPECT_EQ(log(1.0), 0.0);
  EXPECT_EQ(exp(0.0), 1.0);
  EXPECT_EQ(exp(1.0), std::numbers::e);
  EXPECT_EQ(log(2.0), std::numbers::ln2);
  EXPECT_EQ(pow(9.0, 0.5), 3.0);
  EXPECT_EQ(hypot(3.0, 4.0), 5.0);
  EXPECT_EQ(hypot(std::ldexp(5.0, 1000), std::ldexp(12.0, 1000)), std::ldexp(13.0, 1000));
  EXPECT_EQ(acos(-1.0), std::numbers::pi);
  EXPECT_EQ(4.0 * atan(1.0), std::numbers::pi);
  EXPECT_EQ(sine_of_turns(0.25), 1.0);
  EXPECT_EQ(sine_of_turns(7.5), 0.0);
  EXPECT_EQ(sine_of_turns(1.0 / 12.0), 0.5);
  EXPECT_EQ(cos(0.0), 1.0);
}

TEST(Elementary, EdgesAreThoseOfIeee754) {
  EXPECT_EQ(log(0.0), -infinity);
  EXPECT_EQ(log(infinity), infinity);
  EXPECT_TRUE(std::isnan(log(-1.0)));
  EXPECT_EQ(log(0.0F), -std::numeric_limits<float>::infinity());
  EXPECT_EQ(log(std::numeric_limits<double>::denorm_min()), -0x1.74385446d71c3p+9);
  EXPECT_EQ(exp(-infinity), 0.0);
  EXPECT_EQ(exp(710.0), infinity);
  EXPECT_EQ(exp(-746.0), 0.0);
  EXPECT_EQ(exp(100.0F), std::numeric_limits<float>::infinity());
  EXPECT_EQ(exp(-200.0F), 0.0F);
  EXPECT_EQ(pow(0.0, 2.0), 0.0);
  EXPECT_EQ(pow(0.0, -1.0), infinity);
  EXPECT_EQ(pow(nan, 0.0), 1.0);
  EXPECT_TRUE(std::isnan(pow(-2.0, 2.0)));
  EXPECT_TRUE(std::isnan(sin(infinity)));
  EXPECT_TRUE(std::isnan(cos(1e300)));
  EXPECT_TRUE(std::signbit(sin(-0.0)));
  EXPECT_EQ(atan2(0.0, -1.0), std::numbers::pi);
  EXPECT_EQ(atan2(-0.0, -1.0), -std::numbers::pi);
  EXPECT_EQ(atan2(1.0, 0.0), std::numbers::pi / 2);
  EXPECT_EQ(atan2(-infinity, infinity), -std::numbers::pi / 4);
  EXPECT_EQ(atan(-infinity), -std::numbers::pi / 2);
  EXPECT_TRUE(std::isnan(acos(1.5)));
  EXPECT_EQ(tanh(-infinity), -1.0);
  EXPECT_EQ(sinh(800.0), infinity);
  EXPECT_EQ(atanh(1.0), infinity);
  EXPECT_EQ(erfc(-infinity), 2.0);
  EXPECT_EQ(erfc(infinity), 0.0);
  EXPECT_EQ(hypot(infinity, nan), infinity);
  for (const auto& [name, function] : functions) EXPECT_TRUE(std::isnan(function({nan, nan}))) << name;
}

TEST(Elementary, ComplexNumbersObeyTheirDefinitions) {
  for (const Complex z : {Complex{3.0, -4.0}, Complex{-0.6, 0.8}, Complex{-2.0, 1e-9}, Complex{1e-9, 5.0}}) {
    EXPECT_NEAR(std::abs(sqrt(z) * sqrt(z) - z), 0.0, 1e-15 * std::abs(z));
    EXPECT_GE(sqrt(z).real(), 0.0);
    const Complex logarithm = log(z);
    EXPECT_NEAR(std::abs(exp(logarithm.real()) * turn(logarithm.imag()) - z), 0.0, 2e-15 * std::abs(z));
    EXPECT_NEAR(std::abs(quotient({1.0, 2.0}, z) * z - Complex{1.0, 2.0}), 0.0, 1e-15);
  }
  EXPECT_EQ(sqrt(Complex{-4.0, 0.0}), (Complex{0.0, 2.0}));
  EXPECT_EQ(abs({3.0, -4.0}), 5.0);
  EXPECT_EQ(quotient({10.0, 0.0}, {3.0, 4.0}), (Complex{1.2, -1.6}));
  // Next to the unit circle: |z|^2 = 1 + e with e = 2^-29 + 2^-60 + 2^-32, and ln(1 + e) = e - e^2
  // / 2 + ...
  const double e = 0x1p-29 + 0x1p-60 + 0x1p-32;
  EXPECT_NEAR(log({1.0 + 0x1p-30, 0x1p-16}).real(), 0.5 * (e - 0.5 * e * e + e * e * e / 3.0), 1e-16 * e);
}

}  // namespace
}  // namespace pulsewright::elementary
