/// Stage 1: the times of day at which inputs say they begin.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "pulsewright/units.hpp"

namespace pulsewright {

/// The wall clock of the first row of a table of rates, ISO 8601, where its times are those of a clock; from there `read_rates` counts. Times that begin at zero have elapsed, and
/// are none of a clock. Throws Error{unreadable} for a file that is no text table.
[[nodiscard]] std::optional<std::string> clock_start_of_rates(const std::filesystem::path& path);

/// The clock of a test that begins then minus that of a reference, each counted from its own beginning; negative for a test that begins later. Both clocks are ISO 8601, as `Recording::clock_start`.
/// Where not both have a date the nearer day is meant. Nothing where one is not stated or not read, or only one tells its time zone.
[[nodiscard]] std::optional<Seconds> offset_by_clocks(const std::optional<std::string>& reference,
                                                      const std::optional<std::string>& test);

}  // namespace pulsewright
