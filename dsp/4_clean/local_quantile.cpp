#include "local_quantile.hpp"

#include <algorithm>

namespace pulsewright {

std::vector<double> local_quantile(const std::vector<Placed>& values, std::size_t n, std::size_t reach, double q) {
  std::vector<double> result(n + 1, 0.0);
  std::vector<double> window;  // sorted
  std::size_t from = 0;        // values [from, to) are in the window
  std::size_t to = 0;
  std::size_t next = 0;  // first value placed at or after the boundary
  for (std::size_t i = 0; i <= n; ++i) {
    while (next < values.size() && values[next].place < i) ++next;
    const std::size_t wanted_from = next - std::min(next, reach);
    const std::size_t wanted_to = std::min(next + reach, values.size());
    for (; to < wanted_to; ++to)
      window.insert(std::lower_bound(window.begin(), window.end(), values[to].magnitude), values[to].magnitude);
    for (; from < wanted_from; ++from)
      window.erase(std::lower_bound(window.begin(), window.end(), values[from].magnitude));
    if (window.empty()) continue;
    const double place = q * static_cast<double>(window.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, window.size() - 1);
    result[i] = window[below] + (place - static_cast<double>(below)) * (window[above] - window[below]);
  }
  return result;
}

}  // namespace pulsewright
