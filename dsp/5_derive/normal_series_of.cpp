#include <cmath>

#include "variability_parts.hpp"

namespace pulsewright {

Seconds NormalSeries::length() const {
  return intervals.empty() ? Seconds{0.0} : intervals.back().end - intervals.front().start;
}

NormalSeries normal_series_of(const Intervals& intervals) {
  NormalSeries series;
  series.intervals = normal_series(intervals);
  series.nn.reserve(series.intervals.size());
  for (const NormalInterval& interval : series.intervals) series.nn.push_back(interval.ms);
  for (std::size_t i = 1; i < series.intervals.size(); ++i) {
    const NormalInterval &last = series.intervals[i - 1], &next = series.intervals[i];
    if (!next.touches_last || last.replaced || next.replaced) continue;
    series.first.push_back(last.ms);
    series.second.push_back(next.ms);
  }
  return series;
}

void refuse(std::vector<Reason>& reasons, std::initializer_list<const char*> measures, const std::string& why) {
  for (const char* measure : measures) reasons.push_back({measure, why});
}

bool long_enough(Seconds length, Seconds needed) {
  constexpr double share = 0.95;
  return length >= share * needed;
}

double mean_of(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double sample_sd(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double sum = 0.0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

}  // namespace pulsewright
