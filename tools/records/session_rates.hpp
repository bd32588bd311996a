/// Rates of a session from a table.
#pragma once

#include <string>

#include "pulsewright/rate.hpp"

namespace pulsewright::program {

/// As `read_rates`. Times that count from long before, as from 1970, are counted from the first row instead, with a warning.
[[nodiscard]] RateSeries session_rates(const std::string& file, const std::string& column);

}  // namespace pulsewright::program
