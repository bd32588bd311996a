/// Real values -> stored values: the analog-digital converter.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// Code of a value: floor((value - low) / step + 0.5), clipped to [0, 2^bits - 1].
[[nodiscard]] long code_of(const Converter& converter, double value);

/// low + code * step for every value; values as they are without a converter.
[[nodiscard]] std::vector<float> convert(const std::vector<double>& values, const std::optional<Converter>& converter);

}  // namespace pulsewright::simulation
