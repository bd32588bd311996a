/// A quantile over neighbours, for every place of a series.
#pragma once

#include <vector>

namespace pulsewright {

/// A magnitude measured at some place of a series.
struct Placed {
  std::size_t place = 0;
  double magnitude = 0;
};

/// For each boundary 0..n the `q` quantile of the magnitudes of up to `reach` values placed before it and `reach` placed from it on; 0 where there are
/// none. `values` are in order of place. Linear between order statistics.
[[nodiscard]] std::vector<double> local_quantile(const std::vector<Placed>& values, std::size_t n, std::size_t reach,
                                                 double q);

}  // namespace pulsewright
