/// Why a line of a text table could not be taken.
#pragma once

#include <cstddef>
#include <limits>
#include <string>

namespace pulsewright::reading {

inline constexpr std::size_t no_column = std::numeric_limits<std::size_t>::max();

struct BadCell {
  std::size_t column = no_column;  ///< `no_column` where it is the whole line
  std::string value;
  std::string rule;
};

}  // namespace pulsewright::reading
