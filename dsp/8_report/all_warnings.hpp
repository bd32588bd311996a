/// The warnings of an analysis.
#pragma once

#include "pulsewright/pipeline.hpp"

namespace pulsewright {

/// Every stage's warnings, each once, in the order of the stages.
[[nodiscard]] Warnings all_warnings(const Analysis& result);

}  // namespace pulsewright
