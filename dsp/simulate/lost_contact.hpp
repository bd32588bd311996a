/// Stretches in which a sensor has no contact.
#pragma once

#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// Planned and random drop-outs inside [0, duration), in time order. Random ones never overlap each other.
[[nodiscard]] std::vector<DropOut> drop_outs(const Contact& contact, Seconds duration, std::uint64_t seed);

/// Freezes and then blanks the samples of a channel that fall into drop-outs of its kind: where the two overlap there is a gap. A flat stretch at
/// the very start holds the first sample.
void lose_contact(Channel& channel, const std::vector<DropOut>& drop_outs);

}  // namespace pulsewright::simulation
