#include "envelope.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

std::vector<EnvelopeColumn> envelope(std::span<const float> values, std::size_t columns) {
  std::vector<EnvelopeColumn> result(std::min(columns, values.size()));
  for (std::size_t k = 0; k < result.size(); ++k) {
    EnvelopeColumn& column = result[k];
    column.first = k * values.size() / result.size();
    column.last = (k + 1) * values.size() / result.size();
    bool any = false;
    for (std::size_t i = column.first; i < column.last; ++i) {
      const float value = values[i];
      if (std::isnan(value)) {
        ++column.missing;
        continue;
      }
      if (!any || value < column.lowest) {
        column.lowest = value;
        column.lowest_at = i;
      }
      if (!any || value > column.highest) {
        column.highest = value;
        column.highest_at = i;
      }
      any = true;
    }
  }
  return result;
}

}  // namespace pulsewright
