#include "pulsewright/rate.hpp"

namespace pulsewright {

const char* to_string(RateMethod method) {
  switch (method) {
    case RateMethod::none: return "none";
    case RateMethod::beats: return "beats";
    case RateMethod::spectrum: return "spectrum";
    case RateMethod::device: break;
  }
  return "device";
}

std::vector<InstantRate> instant_rates(const Intervals& intervals) {
  std::vector<InstantRate> rates;
  for (const Interval& row : intervals.intervals)
    if (row.verdict == IntervalVerdict::normal) rates.push_back({row.end, rate_of(Seconds{row.original_ms / 1000.0})});
  return rates;
}

}  // namespace pulsewright
