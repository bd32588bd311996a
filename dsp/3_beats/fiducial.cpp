#include "fiducial.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace pulsewright::beats_stage {
namespace {

// The R peak lies this near the peak of the QRS energy.
constexpr Seconds search_reach{0.060};
// The parabola is laid over this much of the R wave to either side.
constexpr Seconds parabola_reach{0.006};
// A change of polarity needs the other side to be higher by this factor.
constexpr double clear_ratio = 1.25;
// A single complex is read on the other side when that side is higher by this factor (a ventricular beat pointing the other way).
constexpr float other_side_ratio = 2.0F;

struct Deflections {
  float up = 0;    // above the local median
  float down = 0;  // below it
};

std::span<const float> around(std::span<const float> values, double centre, Hertz rate, std::size_t& first) {
  const auto size = static_cast<std::ptrdiff_t>(values.size());
  const auto reach = static_cast<std::ptrdiff_t>(std::ceil(samples_in(search_reach, rate)));
  const auto middle = static_cast<std::ptrdiff_t>(std::lround(centre));
  const auto from = std::clamp<std::ptrdiff_t>(middle - reach, 0, size);
  const auto to = std::clamp<std::ptrdiff_t>(middle + reach + 1, from, size);
  first = static_cast<std::size_t>(from);
  return values.subspan(first, static_cast<std::size_t>(to - from));
}

// Heights against the mean of the stretch's ends, where the complex has not begun or is over.
Deflections deflections(std::span<const float> stretch) {
  constexpr float infinity = std::numeric_limits<float>::infinity();
  float low = infinity, high = -infinity;
  for (const float v : stretch) {
    // A NaN is neither smaller nor larger.
    low = v < low ? v : low;
    high = v > high ? v : high;
  }
  if (low > high) return {};
  float ends = 0.5F * (stretch.front() + stretch.back());
  if (std::isnan(ends)) ends = 0;
  return {high - ends, ends - low};
}

}  // namespace

std::optional<double> extreme_position(std::span<const float> values, bool upward, std::size_t half_width) {
  // The extreme first, then its place: a NaN is neither smaller nor larger.
  constexpr float infinity = std::numeric_limits<float>::infinity();
  float extreme = upward ? -infinity : infinity;
  if (upward) {
    for (const float v : values) extreme = v > extreme ? v : extreme;
  } else {
    for (const float v : values) extreme = v < extreme ? v : extreme;
  }
  const auto place = std::find(values.begin(), values.end(), extreme);
  if (place == values.end()) return std::nullopt;
  const auto best = static_cast<std::size_t>(place - values.begin());
  const std::size_t reach = std::min({half_width, best, values.size() - 1 - best});
  if (reach == 0) return static_cast<double>(best);

  // Least-squares parabola y = a + b k + c k^2 over k = -reach..reach; its vertex is at -b / (2 c).
  double s2 = 0, s4 = 0, y0 = 0, y1 = 0, y2 = 0;
  for (std::size_t i = 0; i <= 2 * reach; ++i) {
    const double k = static_cast<double>(i) - static_cast<double>(reach);
    const double y = static_cast<double>(values[best - reach + i]);
    if (std::isnan(y)) return static_cast<double>(best);
    s2 += k * k;
    s4 += k * k * k * k;
    y0 += y;
    y1 += k * y;
    y2 += k * k * y;
  }
  const double n = static_cast<double>(2 * reach + 1);
  const double b = y1 / s2;
  const double c = (n * y2 - s2 * y0) / (n * s4 - s2 * s2);
  if (c == 0 || (c > 0) == upward) return static_cast<double>(best);
  const double vertex = std::clamp(-b / (2 * c), -static_cast<double>(reach), static_cast<double>(reach));
  return static_cast<double>(best) + vertex;
}

void Polarity::learn(std::span<const float> values, std::span<const std::int64_t> centres, Hertz rate) {
  std::vector<float> up, down;
  for (const std::int64_t centre : centres) {
    std::size_t first = 0;
    const Deflections d = deflections(around(values, static_cast<double>(centre), rate, first));
    up.push_back(d.up);
    down.push_back(d.down);
  }
  if (up.empty()) return;
  const auto median = [](std::vector<float>& v) {
    const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
    std::nth_element(v.begin(), middle, v.end());
    return static_cast<double>(*middle);
  };
  const double higher_up = median(up);
  const double higher_down = median(down);
  if (!known_) {
    upward_ = higher_up >= higher_down;
  } else if (upward_ ? higher_down > clear_ratio * higher_up : higher_up > clear_ratio * higher_down) {
    upward_ = !upward_;
  }
  known_ = true;
}

double r_peak_near(std::span<const float> values, double centre, bool upward, Hertz rate) {
  std::size_t first = 0;
  const std::span<const float> stretch = around(values, centre, rate, first);
  if (stretch.empty()) return centre;
  const Deflections d = deflections(stretch);
  const bool side = upward ? d.down <= other_side_ratio * d.up : d.up > other_side_ratio * d.down;
  const auto half_width =
      std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(samples_in(parabola_reach, rate))));
  const std::optional<double> position = extreme_position(stretch, side, half_width);
  return position ? static_cast<double>(first) + *position : centre;
}

}  // namespace pulsewright::beats_stage
