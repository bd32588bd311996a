#include "random.hpp"

#include <bit>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::simulation {

std::uint64_t split_mix(std::uint64_t& state) {
  state += 0x9e3779b97f4a7c15U;
  std::uint64_t z = state;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

Random::Random(std::uint64_t seed, Stream stream) : s_{} {
  std::uint64_t state = seed;
  state = split_mix(state) + static_cast<std::uint64_t>(stream);
  state = split_mix(state);
  for (auto& word : s_) word = split_mix(state);
}

std::uint64_t Random::bits() {
  const std::uint64_t result = std::rotl(s_[1] * 5U, 7) * 9U;
  const std::uint64_t t = s_[1] << 17U;
  s_[2] ^= s_[0];
  s_[3] ^= s_[1];
  s_[1] ^= s_[2];
  s_[0] ^= s_[3];
  s_[2] ^= t;
  s_[3] = std::rotl(s_[3], 45);
  return result;
}

double Random::uniform() { return static_cast<double>(bits() >> 11U) * 0x1.0p-53; }

double Random::gaussian() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  double u = 0.0;
  double v = 0.0;
  double q = 0.0;
  do {
    u = 2.0 * uniform() - 1.0;
    v = 2.0 * uniform() - 1.0;
    q = u * u + v * v;
  } while (q >= 1.0 || q < 1e-300);
  const double scale = std::sqrt(-2.0 * elementary::log(q) / q);
  spare_ = v * scale;
  has_spare_ = true;
  return u * scale;
}

double Random::exponential_with_mean(double mean) { return -mean * elementary::log(1.0 - uniform()); }

}  // namespace pulsewright::simulation
