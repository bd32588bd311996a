#include "sample_times.hpp"

#include <algorithm>
#include <cmath>

#include "random.hpp"

namespace pulsewright::simulation {

namespace {
/// Jitter is cut off at this share of a sample period, so that samples keep their order.
constexpr double most_jitter = 0.3;
}  // namespace

SampleTimes::SampleTimes(const Scenario& scenario)
    : size_(static_cast<std::size_t>(std::floor(samples_in(scenario.duration(), scenario.rate) + 0.5))),
      rate_(scenario.rate.value()),
      speed_(1.0 + scenario.clock.error_ppm * 1e-6) {
  const SamplingClock& clock = scenario.clock;
  if (clock.jitter.value() > 0.0) {
    Random random(scenario.seed, Stream::jitter);
    const double limit = most_jitter / rate_;
    jitter_.resize(size_);
    for (double& j : jitter_) j = std::clamp(clock.jitter.value() * random.gaussian(), -limit, limit);
    if (size_ > 0) jitter_[0] = std::max(jitter_[0], 0.0);  // the recording starts at 0
  }
  if (clock.stamps) {
    const double step = clock.stamps->value();
    stamps_.resize(size_);
    for (std::size_t i = 0; i < size_; ++i) {
      const double exact = shown(true_time(i));
      stamps_[i] = step > 0.0 ? std::floor(exact / step + 0.5) * step : exact;
    }
  }
}

std::pair<std::size_t, std::size_t> SampleTimes::range(double from, double to) const {
  const double first = std::floor(shown(from) * rate_) - 1.0;
  const double last = std::ceil(shown(to) * rate_) + 2.0;
  const auto clamp = [this](double i) {
    return static_cast<std::size_t>(std::clamp(i, 0.0, static_cast<double>(size_)));
  };
  return {clamp(first), clamp(last)};
}

}  // namespace pulsewright::simulation
