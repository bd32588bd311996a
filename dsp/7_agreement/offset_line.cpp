#include "offset_line.hpp"

#include <algorithm>
#include <cmath>

#include "pulsewright/median.hpp"
#include "series_moments.hpp"

namespace pulsewright {

double median_of(std::vector<double> values) { return median(std::span(values)); }

std::optional<OffsetLine> line_through(const std::vector<StretchOffset>& stretches) {
  if (stretches.size() < fewest_for_a_line) return std::nullopt;
  std::vector<double> slopes, times, rests;
  for (std::size_t i = 0; i < stretches.size(); ++i)
    for (std::size_t j = i + 1; j < stretches.size(); ++j)
      slopes.push_back((stretches[j].offset - stretches[i].offset) / (stretches[j].at - stretches[i].at));
  OffsetLine line;
  line.slope = median_of(std::move(slopes));
  for (const StretchOffset& s : stretches) {
    times.push_back(s.at.value());
    rests.push_back(s.offset.value() - line.slope * s.at.value());
  }
  line.offset = median_of(rests);
  std::vector<double> absolute;
  absolute.reserve(rests.size());
  for (const double rest : rests) absolute.push_back(std::abs(rest - line.offset));
  constexpr double sd_of_median = 1.4826;  // of a normal variable
  const double sd = sd_of_median * median_of(std::move(absolute));
  const double middle = mean_of(times), spread = squares_around(times, middle);
  const double n = static_cast<double>(times.size());
  line.error_ppm = 1e6 * sd / std::sqrt(spread);
  line.offset_error = sd * std::sqrt(1 / n + middle * middle / spread);
  line.error_at_middle = sd / std::sqrt(n);
  return line;
}

}  // namespace pulsewright
