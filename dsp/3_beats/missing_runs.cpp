#include "missing_runs.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Shorter gaps are bridged; a signal that stands still this long shows no heart (the flattest real stretch, between beats at 30 beats/min,
// still carries the sensor's noise).
constexpr Seconds shortest_gap{0.05};
constexpr Seconds shortest_flat{1.0};

}  // namespace

MissingRuns::MissingRuns(Hertz rate, std::size_t channels) : rate_(rate), watches_(channels) {}

std::int64_t MissingRuns::dark_for(const Watch& watch) const {
  if (static_cast<double>(watch.missing) > samples_in(shortest_gap, rate_)) return watch.missing;
  if (static_cast<double>(watch.still) >= samples_in(shortest_flat, rate_)) return watch.still;
  return 0;
}

void MissingRuns::close(std::int64_t end) {
  closed_.push_back({time_of(SampleIndex{dark_since_}, rate_), time_of(SampleIndex{end}, rate_)});
  dark_since_ = -1;
}

void MissingRuns::push(std::span<const std::span<const float>> chunk) {
  if (chunk.empty()) return;
  for (std::size_t i = 0; i < chunk[0].size(); ++i, ++at_) {
    std::int64_t dark = at_ + 1;
    for (std::size_t k = 0; k < watches_.size(); ++k) {
      Watch& watch = watches_[k];
      const float value = chunk[k][i];
      if (std::isnan(value)) {
        ++watch.missing;
      } else {
        watch.missing = 0;
        watch.still = watch.seen && value == watch.last ? watch.still + 1 : 1;
        watch.last = value;
        watch.seen = true;
      }
      dark = std::min(dark, dark_for(watch));
    }
    if (dark > 0 && dark_since_ < 0) dark_since_ = at_ + 1 - dark;
    if (dark == 0 && dark_since_ >= 0) close(at_);
  }
}

std::vector<Span> MissingRuns::spans() const {
  std::vector<Span> spans = closed_;
  if (dark_since_ >= 0) spans.push_back({time_of(SampleIndex{dark_since_}, rate_), time_of(SampleIndex{at_}, rate_)});
  return spans;
}

}  // namespace pulsewright::beats_stage
