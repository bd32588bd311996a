/// The measures of variability in the order of the contract.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/variability.hpp"

namespace pulsewright {

enum class MeasureGroup { principal, time, frequency, complexity };

struct VariabilityMeasure {
  const char* key;  ///< in JSON and CSV
  std::optional<double> value;
  int decimals;  ///< there
  const char* label;
  const char* unit;
  const char* meaning;
  MeasureGroup group = MeasureGroup::principal;
};

/// Every measure that is one number.
[[nodiscard]] std::vector<VariabilityMeasure> variability_measures(const Variability& v);
/// Those that the session report shows.
[[nodiscard]] std::vector<VariabilityMeasure> principal_measures(const Variability& v);
/// What a measure is called on a page, with its unit: `RMSSD, ms`; the key where it is none of these.
[[nodiscard]] std::string measure_label(std::string_view key);
/// Powers by one method, under the same keys as those of the principal method.
[[nodiscard]] std::vector<VariabilityMeasure> power_measures(const BandPowers& p);

}  // namespace pulsewright
