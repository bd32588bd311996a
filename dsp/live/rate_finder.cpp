#include <algorithm>
#include <cmath>
#include <cstddef>

#include "pulsewright/live.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {
namespace {

constexpr std::int64_t second_us = 1'000'000;
constexpr std::size_t fewest = 20;
/// A whole number of hertz is meant where it is this near.
constexpr double near_whole = 0.01;
/// A clock in whole milliseconds shows steps of 2 and 3 for 2.5. Where the middle of the steps and
/// their mean are this near, the mean knows better.
constexpr double near_mean = 0.25;

}  // namespace

void RateFinder::push(const TimedSample& sample) {
  if (rate_) return;
  times_us_.push_back(sample.time_us);
  if (times_us_.size() >= fewest && times_us_.back() - times_us_.front() >= second_us) {
    rate_ = rate_so_far();
    times_us_ = {};
  }
}

std::optional<Hertz> RateFinder::rate_so_far() const {
  if (rate_) return rate_;
  if (times_us_.size() < 3) return std::nullopt;
  std::vector<double> steps;
  for (std::size_t i = 1; i < times_us_.size(); ++i)
    steps.push_back(static_cast<double>(times_us_[i] - times_us_[i - 1]));
  const double middle = median(std::span(steps));
  // The mean of the steps that are no gaps.
  double sum = 0, count = 0;
  for (const double step : steps) {
    if (step > 1.6 * middle) continue;
    sum += step;
    count += 1;
  }
  const double mean = sum / count;
  const double step = std::abs(mean - middle) < near_mean * middle ? mean : middle;
  const double rate = second_us / step;
  const double whole = std::round(rate);
  if (whole > 0 && std::abs(rate - whole) < near_whole * whole) return Hertz{whole};
  return Hertz{std::max(0.1, std::round(rate * 10.0) / 10.0)};
}

}  // namespace pulsewright
