/// Middle values of lists, one definition for all stages. Both reorder the list; of an empty one there is none, and it may not be asked for.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>

namespace pulsewright {

/// The middle value; of an even number the upper of the two, so that it is one of the values.
template <class Number>
[[nodiscard]] Number upper_median(std::span<Number> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// The middle value; of an even number the mean of the two.
[[nodiscard]] inline double median(std::span<double> values) {
  const double upper = upper_median(values);
  if (values.size() % 2 == 1) return upper;
  return 0.5 *
         (upper + *std::max_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2)));
}

}  // namespace pulsewright
