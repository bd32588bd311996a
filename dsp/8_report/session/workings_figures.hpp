/// The same few seconds at each step from samples to heart rate, a figure a step.
#pragma once

#include "8_report/figure/figure.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

/// What the figures of the steps have in common.
struct Workings {
  const Analysis& analysis;
  const Recording& recording;
  const ChosenSignals& chosen;
  Span stretch;
  const Words& words;

  [[nodiscard]] const Channel& first_channel() const { return recording.channels[chosen.channels.front()]; }
  [[nodiscard]] const Signal& first_signal() const { return chosen.signals.front(); }
};

[[nodiscard]] Figure stored_samples_figure(const Workings& workings);
[[nodiscard]] Figure filtered_figure(const Workings& workings);
[[nodiscard]] Figure detection_figure(const Workings& workings, const DetectionTrace& trace);
[[nodiscard]] Figure beats_figure(const Workings& workings);
[[nodiscard]] Figure cleaning_figure(const Workings& workings);
[[nodiscard]] Figure windows_figure(const Workings& workings);

}  // namespace pulsewright
