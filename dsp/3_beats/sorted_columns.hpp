/// Many short series sorted side by side.
#pragma once

#include <algorithm>
#include <bit>
#include <cstddef>
#include <vector>

namespace pulsewright::beats_stage {

/// A table whose columns are sorted, each by itself. All columns go through the same comparisons, so that the processor does neighbouring ones at once (Batcher's merge
/// exchange; Knuth, The Art of Computer Programming, vol. 3, 5.2.2, algorithm M). No NaN.
class SortedColumns {
 public:
  SortedColumns(std::size_t rows, std::size_t columns, float value = 0.0F)
      : rows_(rows), columns_(columns), values_(rows * columns, value) {}

  [[nodiscard]] float* row(std::size_t r) { return values_.data() + r * columns_; }
  [[nodiscard]] const float* row(std::size_t r) const { return values_.data() + r * columns_; }

  /// From then on, row r holds the r-th lowest value of each column.
  void sort() {
    const std::size_t top = std::bit_ceil(rows_) / 2;
    for (std::size_t p = top; p > 0; p /= 2) {
      std::size_t r = 0;
      std::size_t d = p;
      for (std::size_t q = top;; q /= 2) {
        for (std::size_t i = 0; i + d < rows_; ++i) {
          if ((i & p) == r) exchange(i, i + d);
        }
        if (q == p) break;
        d = q - p;
        r = p;
      }
    }
  }

 private:
  void exchange(std::size_t low, std::size_t high) {
    float* __restrict l = row(low);
    float* __restrict h = row(high);
    for (std::size_t c = 0; c < columns_; ++c) {
      const float smaller = std::min(l[c], h[c]);
      h[c] = std::max(l[c], h[c]);
      l[c] = smaller;
    }
  }

  std::size_t rows_, columns_;
  std::vector<float> values_;
};

}  // namespace pulsewright::beats_stage
