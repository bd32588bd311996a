/// What both detectors share: signals on one grid, stretches in which no beat can be read, and beats in order.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// Throws Error{contract} in the name of `caller` when the signals do not share rate, start and length. At least one signal.
void check_same_grid(std::span<const Signal> signals, const std::string& caller);

/// Where no signal can be read: inside gaps, flat or clipped seconds of every one of them, and outside what was recorded. Ordered, disjoint.
[[nodiscard]] std::vector<Span> unreadable_spans(std::span<const Signal> signals, Seconds duration);

/// Samples at which some signal resumes after all of them were missing for a while: beats were lost there, so no rhythm spans it.
[[nodiscard]] std::vector<std::size_t> restarts(std::span<const std::span<const float>> signals, Hertz rate);

/// An accepted beat inside an unreadable span is rejected as such.
void reject_if_unreadable(Beat& beat, const std::vector<Span>& spans);

/// Sorts candidates by time and makes sure that accepted beats keep the refractory distance after their times were refined: of two that are
/// too close the surer one stays.
void settle_order(std::vector<Beat>& candidates, Seconds refractory);

/// The pieces in order, those that touch or overlap made one, empty ones left out.
[[nodiscard]] std::vector<Span> merged(std::vector<Span> pieces);

/// Whether a time lies in one of some ordered, disjoint spans.
[[nodiscard]] bool lies_in(Seconds time, const std::vector<Span>& spans);

}  // namespace pulsewright::beats_stage
