/// A bootstrap that draws people, each with all of their pairs.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "pair_sums.hpp"

namespace pulsewright {

/// With fewer people no interval is given.
inline constexpr std::size_t fewest_people = 5;

/// The sums of as many people as there are, drawn with replacement, `resamples` times. The same seed gives the same draws on every machine: 64-bit Mersenne
/// Twister, whose numbers the C++ standard fixes. Empty for fewer than `fewest_people`.
[[nodiscard]] std::vector<PairSums> draw_people(std::span<const PairSums> people, std::uint64_t seed,
                                                std::size_t resamples);

/// The interval of a measure over the draws: percentiles at Phi(-+ t sqrt(n / (n - 1))), t the 97.5 % point of Student's t on n - 1 degrees of freedom, which
/// are 2.5 and 97.5 % for many people and further out for few (Hesterberg 2015, Am Stat 69:371). No ends when there are no draws or the measure has no value
/// in some of them.
[[nodiscard]] Estimate with_interval(double value, std::span<const PairSums> draws, std::size_t people,
                                     const std::function<std::optional<double>(const PairSums&)>& measure);

}  // namespace pulsewright
