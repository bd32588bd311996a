/// Stretches in which no beat can be read, and the order of beats.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/beats.hpp"

namespace pulsewright {

/// Where no signal can be read: inside gaps, flat or clipped seconds of every one of them, and outside what was recorded. Ordered, disjoint.
[[nodiscard]] std::vector<Span> unreadable_spans(std::span<const Signal> signals, Seconds duration);

/// An accepted beat inside an unreadable span is rejected as such.
void reject_if_unreadable(Beat& beat, const std::vector<Span>& spans);

/// Sorts candidates by time and makes sure that accepted beats keep the refractory distance after their times were refined: of two that are
/// too close the surer one stays.
void settle_order(std::vector<Beat>& candidates, Seconds refractory);

}  // namespace pulsewright
