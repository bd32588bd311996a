#include "axis_ticks.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright {
namespace {

/// A rounding error of this share of a step does not add a mark or lose one.
constexpr double slack = 1e-9;

constexpr double most_clock_ticks = 11;
constexpr std::array<double, 18> round_times_s{1,   2,   5,    10,   15,   30,    60,    120,   300,
                                               600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400};

std::vector<double> whole_steps(const AxisRange& range, double step) {
  std::vector<double> at;
  const double first = std::ceil(range.low / step - slack), last = std::floor(range.high / step + slack);
  for (double k = first; k <= last; ++k) at.push_back(k * step);
  return at;
}

int decimals_of(double step) { return std::clamp(static_cast<int>(std::ceil(-elementary::log10(step) - slack)), 0, 9); }

}  // namespace

double round_step(const AxisRange& range, int most) {
  const double rough = range.length() / most;
  if (!(rough > 0)) return 1;
  const double power = elementary::pow(10.0, std::floor(elementary::log10(rough)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (rough <= factor * power * (1 + slack)) return factor * power;
  return 10 * power;
}

AxisRange rounded_out(AxisRange range, int most) {
  if (!(range.length() > 0)) {
    const double around = range.low == 0 ? 1 : std::fabs(range.low) / 2;
    range = {range.low - around, range.low + around};
  }
  const double step = round_step(range, most);
  return {std::floor(range.low / step + slack) * step, std::ceil(range.high / step - slack) * step};
}

std::vector<AxisTick> value_ticks(const AxisRange& range, int most, const NumberStyle& style) {
  const double step = round_step(range, most);
  std::vector<AxisTick> ticks;
  for (const double at : whole_steps(range, step)) ticks.push_back({at, format_number(at, decimals_of(step), style)});
  return ticks;
}

std::vector<AxisTick> clock_ticks(const AxisRange& seconds) {
  double step = round_times_s.back();
  for (const double time : round_times_s)
    if (seconds.length() <= most_clock_ticks * time) {
      step = time;
      break;
    }
  while (seconds.length() > most_clock_ticks * step) step *= 2;
  std::vector<AxisTick> ticks;
  for (const double at : whole_steps(seconds, step))
    ticks.push_back({at, format_clock(Seconds{at}), ticks.size() % 2 == 1});
  return ticks;
}

const char* clock_title(const AxisRange& seconds) {
  constexpr double hour_s = 3600;
  return seconds.high < hour_s ? "axis.time" : "axis.time_hours";
}

}  // namespace pulsewright
