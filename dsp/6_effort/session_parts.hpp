/// The parts that a session's study is put together from.
#pragma once

#include "pulsewright/session.hpp"

namespace pulsewright {

/// Fills the figures that move with the maximum, and the load; needs `effort.maximum`.
void add_ranges(SessionEffort& session);
/// Fills the longest stretches and the peak.
void add_stretches(SessionEffort& session);
/// Fills the times of the user's scheme, where there is one and what it is a share of is known.
void add_scheme(SessionEffort& session);
/// Fills `easing` from the phases.
void add_easing(SessionEffort& session);
/// Fills `exertion` from the session's and its phases' perceived exertion.
void add_exertion(SessionEffort& session);
/// Fills `prompts`; the windows say how far a rate can be trusted.
void add_prompts(SessionEffort& session, const RateSeries& rates);

}  // namespace pulsewright
