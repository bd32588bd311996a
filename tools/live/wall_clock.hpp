/// The time of day, for what is kept beside samples.
#pragma once

#include <string>

namespace pulsewright::program {

/// Now, as `2026-03-02T10:00:00Z`.
[[nodiscard]] std::string utc_now();

}  // namespace pulsewright::program
