#include "window_medians.hpp"

#include <algorithm>

#include "sorted_columns.hpp"

namespace pulsewright::beats_stage {
namespace {

// Windows that are sorted side by side.
constexpr std::size_t at_once = 64;

float cut_off(std::span<const float> values, std::size_t centre, std::size_t reach) {
  const auto first = static_cast<std::ptrdiff_t>(centre - std::min(centre, reach));
  const auto last = static_cast<std::ptrdiff_t>(std::min(values.size(), centre + reach + 1));
  std::vector<float> window(values.begin() + first, values.begin() + last);
  const auto middle = window.begin() + static_cast<std::ptrdiff_t>(window.size() / 2);
  std::nth_element(window.begin(), middle, window.end());
  return *middle;
}

}  // namespace

std::vector<float> window_medians(std::span<const float> values, std::size_t reach, std::size_t stride) {
  std::vector<float> medians((values.size() + stride - 1) / stride);
  // Windows that an end cuts off one by one, the others many at a time.
  const std::size_t whole_from = std::min(medians.size(), (reach + stride - 1) / stride);
  const std::size_t whole_to =
      std::max(whole_from, values.size() > reach ? (values.size() - reach - 1) / stride + 1 : 0);
  for (std::size_t w = 0; w < whole_from; ++w) medians[w] = cut_off(values, w * stride, reach);
  for (std::size_t w = whole_to; w < medians.size(); ++w) medians[w] = cut_off(values, w * stride, reach);
  for (std::size_t w = whole_from; w < whole_to; w += at_once) {
    const std::size_t count = std::min(at_once, whole_to - w);
    SortedColumns windows{2 * reach + 1, count};
    for (std::size_t r = 0; r <= 2 * reach; ++r) {
      const float* from = values.data() + (w * stride - reach + r);
      float* to = windows.row(r);
      for (std::size_t c = 0; c < count; ++c) to[c] = from[c * stride];
    }
    windows.sort();
    std::copy_n(windows.row(reach), count, medians.begin() + static_cast<std::ptrdiff_t>(w));
  }
  return medians;
}

}  // namespace pulsewright::beats_stage
