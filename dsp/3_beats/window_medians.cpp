#include "window_medians.hpp"

#include <algorithm>

#include "pulsewright/median.hpp"
#include "sorted_columns.hpp"

namespace pulsewright::beats_stage {
namespace {

// Windows that are sorted side by side.
constexpr std::size_t at_once = 64;

float cut_off(std::span<const float> values, std::size_t centre, std::size_t reach) {
  const auto first = static_cast<std::ptrdiff_t>(centre - std::min(centre, reach));
  const auto last = static_cast<std::ptrdiff_t>(std::min(values.size(), centre + reach + 1));
  std::vector<float> window(values.begin() + first, values.begin() + last);
  return upper_median(std::span{window});
}

// Windows that are not cut off, `stride` apart: `count` of them, the first of which begins with `values`.
void medians_apart(const float* values, std::size_t reach, std::size_t stride, std::size_t count, float* medians) {
  SortedColumns windows{2 * reach + 1, count};
  for (std::size_t r = 0; r <= 2 * reach; ++r) {
    float* to = windows.row(r);
    for (std::size_t c = 0; c < count; ++c) to[c] = values[c * stride + r];
  }
  windows.sort();
  std::copy_n(windows.row(reach), count, medians);
}

// Windows one after the other have most of their values in common. Those of four windows are sorted once; each window has three of its own beside them.
constexpr std::size_t together = 4;
constexpr std::size_t own = together - 1;

// `count` times four windows that are not cut off, the first of which begins with `values`. `reach` is three at least.
void medians_in_a_row(const float* values, std::size_t reach, std::size_t count, float* medians) {
  SortedColumns common{2 * reach + 1 - own, count};
  for (std::size_t r = 0; r + own <= 2 * reach; ++r) {
    float* to = common.row(r);
    for (std::size_t c = 0; c < count; ++c) to[c] = values[together * c + own + r];
  }
  common.sort();
  for (std::size_t c = 0; c < count; ++c) {
    // To the left of what is common to these windows, and to the right of it.
    const float* left = values + together * c;
    const float* right = left + 2 * reach + 1;
    for (std::size_t w = 0; w < together; ++w) {
      const auto at = [&](std::size_t i) { return w + i < own ? left[w + i] : right[w + i - own]; };
      const auto [low, high] = std::minmax({at(0), at(1)});
      const float first = std::min(low, at(2)), last = std::max(high, at(2));
      const float second = std::max(low, std::min(high, at(2)));
      const auto ranked = [&](std::size_t rank) { return common.row(rank)[c]; };
      medians[together * c + w] = std::min({ranked(reach), std::max(ranked(reach - 1), first),
                                            std::max(ranked(reach - 2), second), std::max(ranked(reach - 3), last)});
    }
  }
}

}  // namespace

std::vector<float> window_medians(std::span<const float> values, std::size_t reach, std::size_t stride) {
  std::vector<float> medians((values.size() + stride - 1) / stride);
  const std::size_t whole_from = std::min(medians.size(), (reach + stride - 1) / stride);
  const std::size_t whole_to =
      std::max(whole_from, values.size() > reach ? (values.size() - reach - 1) / stride + 1 : 0);
  const bool in_a_row = stride == 1 && reach >= own;
  const std::size_t step = in_a_row ? together : 1;
  std::size_t w = whole_from;
  while (whole_to - w >= step) {
    const std::size_t count = std::min(at_once, (whole_to - w) / step);
    const float* first = values.data() + (w * stride - reach);
    if (in_a_row) {
      medians_in_a_row(first, reach, count, medians.data() + w);
    } else {
      medians_apart(first, reach, stride, count, medians.data() + w);
    }
    w += step * count;
  }
  // The few that are left, and those that an end cuts off.
  for (std::size_t k = 0; k < whole_from; ++k) medians[k] = cut_off(values, k * stride, reach);
  for (; w < medians.size(); ++w) medians[w] = cut_off(values, w * stride, reach);
  return medians;
}

}  // namespace pulsewright::beats_stage
