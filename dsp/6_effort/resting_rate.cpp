#include <fmt/format.h>

#include <cmath>

#include "pulsewright/effort.hpp"

namespace pulsewright {

const char* to_string(RestingSource source) { return source == RestingSource::given ? "given" : "lowest_minute"; }

std::optional<RestingRate> lowest_stable_rate(const RateSeries& rates, Seconds length) {
  if (!(length.value() > 0.0))
    throw Error{ErrorCode::contract,
                fmt::format("lowest_stable_rate: length {} s; it must be positive", length.value())};
  const std::vector<EffortCell> cells = effort_cells(rates);
  const std::int64_t needed_us = std::llround(length.value() * 1e6);

  std::optional<RestingRate> lowest;
  for (std::size_t first = 0; first < cells.size(); ++first) {
    double beats = 0.0;  // rate x microseconds
    std::int64_t covered_us = 0;
    for (std::size_t i = first; i < cells.size() && cells[i].rate && covered_us < needed_us; ++i) {
      beats += cells[i].rate->value() * static_cast<double>(cells[i].length_us);
      covered_us += cells[i].length_us;
    }
    if (covered_us < needed_us) continue;
    const BeatsPerMinute mean{beats / static_cast<double>(covered_us)};
    if (lowest && !(mean < lowest->rate)) continue;
    const double start = static_cast<double>(cells[first].start_us);
    lowest = RestingRate{mean, RestingSource::lowest_minute,
                         Span{Seconds{start / 1e6}, Seconds{(start + static_cast<double>(covered_us)) / 1e6}}};
  }
  return lowest;
}

}  // namespace pulsewright
