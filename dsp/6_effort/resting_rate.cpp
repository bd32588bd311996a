#include <fmt/format.h>

#include <cmath>

#include "pulsewright/effort.hpp"
#include "pulsewright/resting.hpp"

namespace pulsewright {

namespace {

/// A minute whose halves differ by more is on its way down or up, not at rest (ours: a rate that falls to rest with a time constant of a
/// minute passes this rule only below 13 beats/min above it).
constexpr double stable_bpm = 5.0;

/// Mean over `length_us` from the cell `first` on; `reached_us` is the time covered, less where a cell is not measured.
double mean_from(const std::vector<EffortCell>& cells, std::size_t first, std::int64_t length_us,
                 std::int64_t& reached_us) {
  double beats = 0.0;  // rate x microseconds
  reached_us = 0;
  for (std::size_t i = first; i < cells.size() && cells[i].rate && reached_us < length_us; ++i) {
    beats += cells[i].rate->value() * static_cast<double>(cells[i].length_us);
    reached_us += cells[i].length_us;
  }
  return reached_us > 0 ? beats / static_cast<double>(reached_us) : 0.0;
}

}  // namespace

const char* to_string(RestingSource source) { return source == RestingSource::given ? "given" : "lowest_minute"; }

std::optional<RestingRate> lowest_stable_rate(const RateSeries& rates, Seconds length) {
  if (!(length.value() > 0.0))
    throw Error{ErrorCode::contract,
                fmt::format("lowest_stable_rate: length {} s; it must be positive", length.value())};
  const std::vector<EffortCell> cells = effort_cells(rates);
  const std::int64_t needed_us = std::llround(length.value() * 1e6);

  std::optional<RestingRate> lowest;
  for (std::size_t first = 0; first < cells.size(); ++first) {
    std::int64_t covered_us = 0, half_us = 0;
    const BeatsPerMinute mean{mean_from(cells, first, needed_us, covered_us)};
    if (covered_us < needed_us) continue;
    if (lowest && !(mean < lowest->rate)) continue;
    const double first_half = mean_from(cells, first, (needed_us + 1) / 2, half_us);
    const double rest_us = static_cast<double>(covered_us - half_us);
    if (rest_us > 0.0) {
      const double second_half =
          (mean.value() * static_cast<double>(covered_us) - first_half * static_cast<double>(half_us)) / rest_us;
      if (std::abs(second_half - first_half) > stable_bpm) continue;
    }
    const double start = static_cast<double>(cells[first].start_us);
    lowest = RestingRate{mean, RestingSource::lowest_minute,
                         Span{Seconds{start / 1e6}, Seconds{(start + static_cast<double>(covered_us)) / 1e6}}};
  }
  return lowest;
}

}  // namespace pulsewright
