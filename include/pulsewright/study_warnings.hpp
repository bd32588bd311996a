/// What is to be known of the inputs of a study, said once for many records.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/error.hpp"

namespace pulsewright {

/// Warnings of the two sides of one record.
struct InputWarnings {
  std::string name;  ///< of the record
  Warnings warnings;
};

/// One warning for each code, in the order of first occurrence: of one record as it stands, of several with how many have it and the words of the first.
[[nodiscard]] Warnings warnings_of_inputs(const std::vector<InputWarnings>& records);

}  // namespace pulsewright
