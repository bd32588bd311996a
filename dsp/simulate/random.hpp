/// Random numbers that are the same on every machine: xoshiro256** (Blackman & Vigna 2021, ACM Trans. Math. Softw. 47:36), its state
/// filled by SplitMix64 (Steele, Lea & Flood 2014, OOPSLA), both written from their published definitions.
#pragma once

#include <array>
#include <cstdint>

namespace pulsewright::simulation {

/// One step of SplitMix64: advances `state` and gives 64 bits.
[[nodiscard]] std::uint64_t split_mix(std::uint64_t& state);

/// What a stream of numbers is for. Each purpose has its own, so that one option never shifts another's numbers.
enum class Stream : std::uint64_t {
  low_frequency = 1,
  breathing,
  early_beats,
  pulse_delay,
  cadence,
  loosening,
  contact,
  jitter,
  ecg_noise,
  pulse_noise,
  motion_noise,
  observer,
};

class Random {
 public:
  Random(std::uint64_t seed, Stream stream);
  explicit Random(const std::array<std::uint64_t, 4>& state) : s_(state) {}

  /// 64 random bits.
  std::uint64_t bits();
  /// Uniform in [0, 1), a multiple of 2^-53.
  double uniform();
  /// Standard normal, by the polar method (Marsaglia & Bray 1964, SIAM Rev. 6:260).
  double gaussian();
  /// Exponential with this mean.
  double exponential_with_mean(double mean);

 private:
  std::array<std::uint64_t, 4> s_;
  double spare_ = 0.0;
  bool has_spare_ = false;
};

}  // namespace pulsewright::simulation
