/// The inner loop of every recursive filter here: a cascade of sections in transposed direct form II, one sample, or one sample of several
/// independent stretches, through all sections at a time.
#pragma once

#include <array>
#include <cstddef>
#include <type_traits>
#include <vector>

#include "pulsewright/condition.hpp"

namespace pulsewright::condition_stage {

/// Four numbers worked on in parallel. Each lane does exactly what a plain double would.
struct Lanes {
  using Pair = double __attribute__((vector_size(16)));
  Pair low{}, high{};

  Lanes() = default;
  Lanes(Pair l, Pair h) : low(l), high(h) {}
  explicit Lanes(double v) : low{v, v}, high{v, v} {}
  Lanes(double first, double second, double third, double fourth) : low{first, second}, high{third, fourth} {}
  friend Lanes operator+(Lanes a, Lanes b) { return {a.low + b.low, a.high + b.high}; }
  friend Lanes operator-(Lanes a, Lanes b) { return {a.low - b.low, a.high - b.high}; }
  friend Lanes operator*(Lanes a, Lanes b) { return {a.low * b.low, a.high * b.high}; }
};

inline constexpr int lane_count = 4;

/// Coefficients of one section in the form of the loop. From y = b0 x + z1, z1' = b1 x - a1 y + z2, z2' = b2 x - a2 y, with y put in:
/// z1' = (b1 - a1 b0) x - a1 z1 + z2 and z2' = (b2 - a2 b0) x - a2 z1, which shortens the chain from one sample to the next.
template <class V>
struct Step {
  V b0, c1, c2, a1, a2;

  Step() = default;
  explicit Step(const Section& s) : b0(s.b0), c1(s.b1 - s.a1 * s.b0), c2(s.b2 - s.a2 * s.b0), a1(s.a1), a2(s.a2) {}
};

/// What a section remembers.
template <class V>
struct Memory {
  V z1{}, z2{};
};

/// The memory of each section after a constant input of 1 since ever.
inline std::vector<Memory<double>> steady_state(const Sections& sections) {
  std::vector<Memory<double>> memory;
  double in = 1.0;
  for (const Section& s : sections) {
    const double out = in * ((s.b0 + s.b1 + s.b2) / (1.0 + s.a1 + s.a2));
    memory.push_back({out - s.b0 * in, s.b2 * in - s.a2 * out});
    in = out;
  }
  return memory;
}

/// A cascade of N sections with its memory; N = 0 for a number known only at run time.
template <class V, int N>
class Cascade {
 public:
  explicit Cascade(const Sections& sections) {
    if constexpr (N == 0) {
      steps_.resize(sections.size());
      memory_.resize(sections.size());
    }
    for (std::size_t i = 0; i < sections.size(); ++i) steps_[i] = Step<V>{sections[i]};
  }

  V operator()(V x) {
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      const Step<V>& c = steps_[i];
      Memory<V>& m = memory_[i];
      const V y = c.b0 * x + m.z1;
      const V z1 = (c.c1 * x + m.z2) - c.a1 * m.z1;
      m.z2 = c.c2 * x - c.a2 * m.z1;
      m.z1 = z1;
      x = y;
    }
    return x;
  }

  std::size_t size() const { return steps_.size(); }
  Memory<V>& memory(std::size_t i) { return memory_[i]; }

 private:
  template <class T>
  using Store = std::conditional_t<N == 0, std::vector<T>, std::array<T, N == 0 ? 1 : static_cast<std::size_t>(N)>>;
  Store<Step<V>> steps_{};
  Store<Memory<V>> memory_{};
};

/// Calls `body.template operator()<N>()` with N the number of sections when it is 1 to 4, else 0.
template <class Body>
auto with_section_count(std::size_t sections, const Body& body) {
  switch (sections) {
    case 1: return body.template operator()<1>();
    case 2: return body.template operator()<2>();
    case 3: return body.template operator()<3>();
    case 4: return body.template operator()<4>();
    default: return body.template operator()<0>();
  }
}

/// After how many samples the slowest pole of a filter has died down to `share` of its start.
std::size_t settling_samples(const Sections& sections, double share);

}  // namespace pulsewright::condition_stage
