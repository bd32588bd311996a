#include <algorithm>
#include <cstddef>

#include "cascade.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

namespace {

using condition_stage::Cascade;
using condition_stage::lane_count;
using condition_stage::Lanes;
using condition_stage::Memory;

/// The ends are extended until a step has died down to this share.
constexpr double extension_share = 1e-3;
/// A stretch that starts in the middle runs in over the samples before it until its start has died down to this share, below what a float
/// can hold (2^-24 = 6e-8).
constexpr double run_in_share = 1e-11;

/// A signal walked in either direction: position 0 is where the pass begins.
struct Walk {
  const float* from;
  float* to;
  std::ptrdiff_t stride;  ///< 1 or -1

  double at(std::size_t i) const { return static_cast<double>(from[stride * static_cast<std::ptrdiff_t>(i)]); }
  float& out(std::size_t i) const { return to[stride * static_cast<std::ptrdiff_t>(i)]; }
  Walk shifted(std::size_t i) const {
    const std::ptrdiff_t d = stride * static_cast<std::ptrdiff_t>(i);
    return {from + d, to + d, stride};
  }
};

template <int N>
void prime(Cascade<double, N>& cascade, const std::vector<Memory<double>>& steady, double value) {
  for (std::size_t s = 0; s < steady.size(); ++s) cascade.memory(s) = {steady[s].z1 * value, steady[s].z2 * value};
}

/// Runs `n` samples through the cascade, continuing from its memory. Long signals are cut into four stretches that go in parallel, the later
/// three after a run-in; then the end of the last stretch is the memory to continue from.
template <int N>
void run(Cascade<double, N>& cascade, const Sections& sections, const std::vector<Memory<double>>& steady,
         const Walk& walk, std::size_t n) {
  const std::size_t run_in = condition_stage::settling_samples(sections, run_in_share);
  const std::size_t stretch = n / lane_count;
  if (stretch < 2 * run_in) {
    for (std::size_t i = 0; i < n; ++i) walk.out(i) = static_cast<float>(cascade(walk.at(i)));
    return;
  }

  const Walk w0 = walk, w1 = walk.shifted(stretch), w2 = walk.shifted(2 * stretch), w3 = walk.shifted(3 * stretch);
  Cascade<Lanes, N> lanes{sections};
  const Walk r0 = w0, r1 = walk.shifted(stretch - run_in), r2 = walk.shifted(2 * stretch - run_in),
             r3 = walk.shifted(3 * stretch - run_in);
  for (std::size_t s = 0; s < steady.size(); ++s) {
    const Lanes first{r0.at(0), r1.at(0), r2.at(0), r3.at(0)};
    lanes.memory(s) = {Lanes{steady[s].z1} * first, Lanes{steady[s].z2} * first};
  }
  for (std::size_t i = 0; i < run_in; ++i) lanes({r0.at(i), r1.at(i), r2.at(i), r3.at(i)});
  for (std::size_t s = 0; s < steady.size(); ++s) {
    lanes.memory(s).z1.low[0] = cascade.memory(s).z1;
    lanes.memory(s).z2.low[0] = cascade.memory(s).z2;
  }
  for (std::size_t i = 0; i < stretch; ++i) {
    const Lanes y = lanes({w0.at(i), w1.at(i), w2.at(i), w3.at(i)});
    w0.out(i) = static_cast<float>(y.low[0]);
    w1.out(i) = static_cast<float>(y.low[1]);
    w2.out(i) = static_cast<float>(y.high[0]);
    w3.out(i) = static_cast<float>(y.high[1]);
  }
  for (std::size_t s = 0; s < steady.size(); ++s) {
    cascade.memory(s) = {lanes.memory(s).z1.high[1], lanes.memory(s).z2.high[1]};
  }
  for (std::size_t i = lane_count * stretch; i < n; ++i) walk.out(i) = static_cast<float>(cascade(walk.at(i)));
}

template <int N>
std::vector<float> forwards_and_backwards(const Sections& sections, std::span<const float> values) {
  const std::size_t n = values.size();
  const std::size_t extension = std::min(n - 1, condition_stage::settling_samples(sections, extension_share));
  const std::vector<Memory<double>> steady = condition_stage::steady_state(sections);
  const double first = static_cast<double>(values.front());
  const double last = static_cast<double>(values.back());
  std::vector<float> out(n);
  std::vector<double> tail(extension);
  Cascade<double, N> cascade{sections};

  // Forwards: the odd reflection of the start, the signal, the odd reflection of the end.
  prime(cascade, steady, 2.0 * first - static_cast<double>(values[extension]));
  for (std::size_t i = extension; i > 0; --i) cascade(2.0 * first - static_cast<double>(values[i]));
  run(cascade, sections, steady, Walk{values.data(), out.data(), 1}, n);
  for (std::size_t i = 0; i < extension; ++i) tail[i] = cascade(2.0 * last - static_cast<double>(values[n - 2 - i]));

  // Backwards over what came out.
  prime(cascade, steady, extension > 0 ? tail.back() : static_cast<double>(out.back()));
  for (std::size_t i = extension; i > 0; --i) cascade(tail[i - 1]);
  run(cascade, sections, steady, Walk{out.data() + n - 1, out.data() + n - 1, -1}, n);
  return out;
}

}  // namespace

std::vector<float> filter_zero_phase(const Sections& filter, std::span<const float> values) {
  if (values.empty() || filter.empty()) return {values.begin(), values.end()};
  return condition_stage::with_section_count(filter.size(),
                                             [&]<int N>() { return forwards_and_backwards<N>(filter, values); });
}

}  // namespace pulsewright
