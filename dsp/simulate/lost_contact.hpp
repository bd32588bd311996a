/// Stretches in which a sensor has no contact.
#pragma once

#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// Planned and random drop-outs inside [0, duration), in time order. Random ones never overlap each other.
[[nodiscard]] std::vector<DropOut> drop_outs(const Contact& contact, Seconds duration, std::uint64_t seed);

/// Blanks or freezes the samples of a channel that fall into drop-outs of its kind. Samples before the first value a flat
/// stretch could hold keep the first sample's value.
void lose_contact(Channel& channel, const std::vector<DropOut>& drop_outs);

}  // namespace pulsewright::simulation
