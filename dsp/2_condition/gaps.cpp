#include "gaps.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

namespace pulsewright::condition_stage {

namespace {

/// True unless every value is finite. Written on the bits so that a whole block is checked without a branch.
bool any_missing(const float* values, std::size_t n) {
  constexpr std::uint32_t exponent = 0x7f800000U;  // all ones: infinity or NaN (IEEE 754)
  std::uint32_t found = 0;
  for (std::size_t i = 0; i < n; ++i) {
    found |= static_cast<std::uint32_t>((std::bit_cast<std::uint32_t>(values[i]) & exponent) == exponent);
  }
  return found != 0;
}

}  // namespace

std::vector<MissingRun> find_missing(std::span<const float> values) {
  constexpr std::size_t block = 1024;
  std::vector<MissingRun> runs;
  for (std::size_t from = 0; from < values.size(); from += block) {
    const std::size_t to = std::min(values.size(), from + block);
    if (!any_missing(values.data() + from, to - from)) continue;
    for (std::size_t i = from; i < to; ++i) {
      if (std::isfinite(values[i])) continue;
      if (!runs.empty() && runs.back().last == i) {
        runs.back().last = i + 1;
      } else {
        runs.push_back({i, i + 1});
      }
    }
  }
  return runs;
}

std::vector<MissingRun> fill_missing(std::span<float> values, const std::vector<MissingRun>& runs,
                                     double longest_bridge) {
  std::vector<MissingRun> gaps;
  for (const MissingRun& run : runs) {
    const bool at_start = run.first == 0;
    const bool at_end = run.last == values.size();
    const float before = at_start ? (at_end ? 0.0F : values[run.last]) : values[run.first - 1];
    const float after = at_end ? before : values[run.last];
    const double steps = static_cast<double>(run.last - run.first) + 1.0;
    for (std::size_t i = run.first; i < run.last; ++i) {
      const double share = static_cast<double>(i - run.first + 1) / steps;
      values[i] = static_cast<float>(static_cast<double>(before) +
                                     share * (static_cast<double>(after) - static_cast<double>(before)));
    }
    if (at_start || at_end || static_cast<double>(run.last - run.first) > longest_bridge) gaps.push_back(run);
  }
  return gaps;
}

}  // namespace pulsewright::condition_stage
