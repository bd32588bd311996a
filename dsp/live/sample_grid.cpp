#include <cmath>
#include <limits>

#include "pulsewright/error.hpp"
#include "pulsewright/live.hpp"

namespace pulsewright {
namespace {

/// Shorter gaps are bridged by a straight line, as by ConditionOptions::bridge.
constexpr double bridge_s = 0.05;
constexpr float missing = std::numeric_limits<float>::quiet_NaN();

}  // namespace

SampleGrid::SampleGrid(Hertz rate) : rate_(rate) {
  if (!(rate.value() > 0)) throw Error{ErrorCode::contract, "SampleGrid: the sampling rate must be positive"};
}

void SampleGrid::push(const TimedSample& sample, std::vector<float>& out) {
  if (sample.time_us <= last_us_) throw Error{ErrorCode::contract, "SampleGrid: times must increase"};
  last_us_ = sample.time_us;
  if (!std::isfinite(sample.value)) return;
  const double now = static_cast<double>(sample.time_us) / 1e6;
  const double close = 0.5 / rate_.value();
  const bool joined = before_s_ && now - *before_s_ <= bridge_s + 1.0 / rate_.value();
  for (double t = time_of_next(); t <= now; t = time_of_next()) {
    float value = missing;
    if (joined) {
      const double share = (t - *before_s_) / (now - *before_s_);
      const double low = static_cast<double>(before_);
      value = static_cast<float>(low + share * (static_cast<double>(sample.value) - low));
    } else if (now - t <= close) {
      value = sample.value;
    } else if (before_s_ && t - *before_s_ <= close) {
      value = before_;
    }
    out.push_back(value);
    ++next_;
  }
  before_s_ = now;
  before_ = sample.value;
}

void SampleGrid::finish(std::vector<float>& out) {
  if (!before_s_) return;
  while (time_of_next() - *before_s_ <= 0.5 / rate_.value()) {
    out.push_back(before_);
    ++next_;
  }
}

}  // namespace pulsewright
