/// What became of the clocks of one compared record, in one word.
#pragma once

#include <optional>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// `one_clock`, `refused`, `not_demanded`, `none`, `offset`, `offset_and_drift`; `none` also for a record that came to no alignment.
[[nodiscard]] const char* alignment_outcome(const ComparedRecord& record);

/// Mean absolute error with the offset that was found, applied or not.
[[nodiscard]] std::optional<double> error_with_alignment(const ComparedRecord& record);

}  // namespace pulsewright
