/// Eight numbers that the processor works on side by side.
#pragma once

#include <cstddef>
#include <cstring>

namespace pulsewright::beats_stage {

/// Two registers of the baseline instruction set. Each lane is rounded as a float by itself would be, so that results do not depend on it.
struct SimdLanes {
  using Four = float __attribute__((vector_size(16)));
  static constexpr std::size_t four = 4, count = 2 * four;

  Four low, high;

  /// The eight floats from an address on, which need not be aligned.
  static SimdLanes load(const float* from) {
    // Register by register, so that compilers keep them there.
    Four low, high;
    std::memcpy(&low, from, sizeof low);
    std::memcpy(&high, from + 4, sizeof high);
    return {low, high};
  }
  /// Four pairs of floats from an address on: the first of each in `low`, the second in `high`.
  static SimdLanes load_pairs(const float* from) {
    const SimdLanes both = load(from);
    return apart(both.low, both.high);
  }
  /// Of four pairs the first in `low`, the second in `high`.
  static SimdLanes apart(Four two, Four others) {
    return {__builtin_shufflevector(two, others, 0, 2, 4, 6), __builtin_shufflevector(two, others, 1, 3, 5, 7)};
  }
  void store(float* to) const {
    std::memcpy(to, &low, sizeof low);
    std::memcpy(to + 4, &high, sizeof high);
  }

  float operator[](std::size_t lane) const { return lane < 4 ? low[lane] : high[lane - 4]; }

  SimdLanes& operator+=(const SimdLanes& b) {
    low += b.low;
    high += b.high;
    return *this;
  }
  SimdLanes& operator*=(const SimdLanes& b) {
    low *= b.low;
    high *= b.high;
    return *this;
  }
  SimdLanes& operator/=(float b) {
    low /= b;
    high /= b;
    return *this;
  }
  friend SimdLanes operator+(const SimdLanes& a, const SimdLanes& b) { return {a.low + b.low, a.high + b.high}; }
  friend SimdLanes operator-(const SimdLanes& a, const SimdLanes& b) { return {a.low - b.low, a.high - b.high}; }
  friend SimdLanes operator*(const SimdLanes& a, const SimdLanes& b) { return {a.low * b.low, a.high * b.high}; }
  friend SimdLanes operator*(const SimdLanes& a, float b) { return {a.low * b, a.high * b}; }
  friend SimdLanes operator+(const SimdLanes& a, float b) { return {a.low + b, a.high + b}; }
  friend SimdLanes operator-(float a, const SimdLanes& b) { return {a - b.low, a - b.high}; }
  /// Lane by lane the larger one.
  friend SimdLanes at_least(const SimdLanes& a, float b) { return {at_least(a.low, b), at_least(a.high, b)}; }
  static Four at_least(Four a, float b) {
    const Four all{b, b, b, b};
    return a > all ? a : all;
  }
};

}  // namespace pulsewright::beats_stage
