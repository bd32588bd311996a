/// Units of the field as types, so that a sampling rate can never be mistaken for a time or a heart rate.
///
/// A quantity is made by an explicit constructor or a literal (`360_hz`, `8_s`, `150_ms`, `72_bpm`) and read with
/// `value()`. Quantities of one kind add, subtract, compare and scale by a plain number; their ratio is a plain number.
/// Crossing from time to samples, or from an interval to a heart rate, goes through a named function below.
#pragma once

#include <cmath>
#include <compare>
#include <cstdint>

namespace pulsewright {

/// A real number with a unit fixed by `Tag`. Regular, trivially copyable; default is zero.
template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  constexpr explicit Quantity(double value) : value_(value) {}

  [[nodiscard]] constexpr double value() const { return value_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
  friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity{k * a.value_}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity{k * a.value_}; }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity{a.value_ / k}; }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }
  constexpr Quantity& operator+=(Quantity b) { return *this = *this + b; }
  constexpr Quantity& operator-=(Quantity b) { return *this = *this - b; }

 private:
  double value_ = 0.0;
};

/// A sampling rate or a frequency, in hertz.
using Hertz = Quantity<struct HertzTag>;
/// A time from the start of the recording, or a duration, in seconds.
using Seconds = Quantity<struct SecondsTag>;
/// A heart rate, in beats per minute.
using BeatsPerMinute = Quantity<struct BeatsPerMinuteTag>;

/// The position of a stored sample, counted from 0 at the start of its channel.
class SampleIndex {
 public:
  constexpr SampleIndex() = default;
  constexpr explicit SampleIndex(std::int64_t index) : index_(index) {}

  [[nodiscard]] constexpr std::int64_t value() const { return index_; }

  friend constexpr auto operator<=>(SampleIndex, SampleIndex) = default;
  /// A distance in samples.
  friend constexpr std::int64_t operator-(SampleIndex a, SampleIndex b) { return a.index_ - b.index_; }
  friend constexpr SampleIndex operator+(SampleIndex a, std::int64_t n) { return SampleIndex{a.index_ + n}; }

 private:
  std::int64_t index_ = 0;
};

/// Time of a sample taken at a constant `rate`, the first sample being at 0 s. `rate` must be positive.
[[nodiscard]] constexpr Seconds time_of(SampleIndex sample, Hertz rate) {
  return Seconds{static_cast<double>(sample.value()) / rate.value()};
}

/// The sample nearest to `time` at a constant `rate`; a tie goes to the later sample. May be negative for a negative time.
[[nodiscard]] inline SampleIndex nearest_sample(Seconds time, Hertz rate) {
  return SampleIndex{static_cast<std::int64_t>(std::floor(time.value() * rate.value() + 0.5))};
}

/// The length of `duration` in samples, fractions kept.
[[nodiscard]] constexpr double samples_in(Seconds duration, Hertz rate) { return duration.value() * rate.value(); }

/// The time between two samples.
[[nodiscard]] constexpr Seconds period(Hertz rate) { return Seconds{1.0 / rate.value()}; }

/// The heart rate of beats that are `interval` apart. `interval` must be positive.
[[nodiscard]] constexpr BeatsPerMinute rate_of(Seconds interval) { return BeatsPerMinute{60.0 / interval.value()}; }

/// The interval between beats at a constant heart rate. `rate` must be positive.
[[nodiscard]] constexpr Seconds interval_of(BeatsPerMinute rate) { return Seconds{60.0 / rate.value()}; }

inline namespace literals {
constexpr Hertz operator""_hz(long double v) { return Hertz{static_cast<double>(v)}; }
constexpr Hertz operator""_hz(unsigned long long v) { return Hertz{static_cast<double>(v)}; }
constexpr Seconds operator""_s(long double v) { return Seconds{static_cast<double>(v)}; }
constexpr Seconds operator""_s(unsigned long long v) { return Seconds{static_cast<double>(v)}; }
constexpr Seconds operator""_ms(long double v) { return Seconds{static_cast<double>(v) / 1000.0}; }
constexpr Seconds operator""_ms(unsigned long long v) { return Seconds{static_cast<double>(v) / 1000.0}; }
constexpr BeatsPerMinute operator""_bpm(long double v) { return BeatsPerMinute{static_cast<double>(v)}; }
constexpr BeatsPerMinute operator""_bpm(unsigned long long v) { return BeatsPerMinute{static_cast<double>(v)}; }
}  // namespace literals

/// A half-open stretch of time [start, end).
struct Span {
  Seconds start;
  Seconds end;

  [[nodiscard]] constexpr Seconds length() const { return end - start; }
  [[nodiscard]] constexpr bool contains(Seconds t) const { return start <= t && t < end; }
  friend constexpr bool operator==(const Span&, const Span&) = default;
};

}  // namespace pulsewright
