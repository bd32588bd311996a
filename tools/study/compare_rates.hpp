/// Reads and compares the rates of a study's pairs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "options/input_options.hpp"
#include "pulsewright/rate_study.hpp"
#include "study_pairs.hpp"

namespace pulsewright::program {

/// One side as it lies in a file, and the time of day at which it says it begins.
struct ReadSide {
  RateSide side;
  std::optional<std::string> clock_start;
};

/// Reads a table of rates, beats, or a recording in which they are found.
[[nodiscard]] ReadSide read_side(const InputFlags& flags, const std::string& column, const RateOptions& rates);

/// Reads and compares every pair. A pair that cannot be read is an error when it is the only one asked for, and a record that is left out otherwise.
[[nodiscard]] std::vector<ComparedRecord> compare_rates(const StudyInputs& inputs, const StudyOptions& options);

}  // namespace pulsewright::program
