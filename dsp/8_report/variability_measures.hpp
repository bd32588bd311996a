/// The measures of variability in the order of the contract.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/variability.hpp"

namespace pulsewright {

struct VariabilityMeasure {
  const char* key;  ///< in JSON and CSV
  std::optional<double> value;
  int decimals;  ///< there
  const char* label;
  const char* unit;
  const char* meaning;
};

[[nodiscard]] std::vector<VariabilityMeasure> variability_measures(const Variability& v);

}  // namespace pulsewright
