#include <algorithm>
#include <cmath>
#include <limits>

#include "designs.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

StreamingConditioner::StreamingConditioner(ChannelKind kind, Hertz rate, const ConditionOptions& options)
    : filter_(condition_stage::conditioning_filter(kind, rate, options)) {}

void StreamingConditioner::push(std::span<const float> in, std::vector<float>& out) {
  const std::size_t written = out.size();
  out.insert(out.end(), in.begin(), in.end());
  const std::span<float> fresh = std::span<float>{out}.subspan(written);

  // Samples before the first recorded one do not touch the filter: it is primed on what was recorded.
  std::size_t first = 0;
  while (!seen_ && first < fresh.size()) {
    if (std::isfinite(fresh[first])) {
      seen_ = true;
      last_ = fresh[first];
    } else {
      fresh[first] = std::numeric_limits<float>::quiet_NaN();
      ++first;
    }
  }
  const std::span<float> recorded = fresh.subspan(first);
  missing_.clear();
  for (std::size_t i = 0; i < recorded.size(); ++i) {
    if (std::isfinite(recorded[i])) {
      last_ = recorded[i];
    } else {
      missing_.push_back(i);
      recorded[i] = last_;  // the filter sees the last recorded value for as long as the gap lasts
    }
  }
  filter_.process(recorded, recorded);
  for (const std::size_t i : missing_) recorded[i] = std::numeric_limits<float>::quiet_NaN();
}

}  // namespace pulsewright
