#include "designs.hpp"

#include "check_filter.hpp"

namespace pulsewright::condition_stage {

namespace {
/// Second order: in zero-phase use the response falls by 24 dB an octave.
constexpr int order = 2;
}  // namespace

Sections conditioning_filter(ChannelKind kind, Hertz rate, const ConditionOptions& options) {
  check_rate(rate, "condition");
  const Hertz half = rate / 2.0;
  const bool pulse = kind == ChannelKind::pulse;
  const Hertz baseline = pulse ? options.pulse_baseline : options.ecg_baseline;
  Sections filter;
  if (baseline < half) filter = butterworth_highpass(order, baseline, rate);
  if (pulse && options.pulse_top < half) {
    const Sections top = butterworth_lowpass(order, options.pulse_top, rate);
    filter.insert(filter.end(), top.begin(), top.end());
  }
  return filter;
}

}  // namespace pulsewright::condition_stage
