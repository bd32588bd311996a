/// The preconditions that every filter design shares.
#pragma once

#include <string>

#include "pulsewright/error.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright::condition_stage {

/// Throws Error{contract} unless the rate is positive and finite. `what` names the operation.
void check_rate(Hertz rate, const std::string& what);

/// Throws Error{contract} unless 0 < edge < rate / 2.
void check_edge(Hertz edge, Hertz rate, const std::string& what);

/// Throws Error{contract} unless 1 <= order <= 12.
void check_order(int order, const std::string& what);

}  // namespace pulsewright::condition_stage
