/// A table of pairs of any quantity: one occasion a row, measured both ways.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace pulsewright::program {

struct PairedTable {
  std::string reference, test;  ///< names of the two columns
  std::vector<PairedValue> pairs;
  std::size_t incomplete = 0;  ///< rows in which one of the two is empty: no pairs
};

/// Reads `file`. Columns that are not named are the two that hold numbers, where there are just two beside `person`. A column `person` says
/// whose each row is; without it every row is somebody else's. Throws Error{usage} for a column that is not there or cannot be told, and
/// Error{unreadable} with every line where a cell holds no number.
[[nodiscard]] PairedTable read_pairs(const std::string& file, const std::string& reference_column,
                                     const std::string& test_column);

}  // namespace pulsewright::program
