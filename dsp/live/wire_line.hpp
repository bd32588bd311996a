/// One line of text from a sensor.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/wire.hpp"

namespace pulsewright::live_stage {

/// Which column of a table holds what.
struct WireColumns {
  std::size_t count = 0;
  std::size_t value = 0;
  std::optional<std::size_t> sequence, time;
  double ticks_per_unit = 1;  ///< microseconds in a unit of the time column
};

/// What a line turned out to be.
struct WireLine {
  enum class Kind { nothing, sample, header, spoiled };
  Kind kind = Kind::nothing;
  WireSample sample;
  WireColumns columns;  ///< of a header
  std::string rule;     ///< of a spoiled one: what it breaks
};

/// Reads a line without its end. Blank lines and comments (`#`) are nothing. `columns` are those of
/// the header before it, if there was one; `wanted` names the value column of a header.
[[nodiscard]] WireLine read_wire_line(std::string_view line, const std::optional<WireColumns>& columns,
                                      const std::string& wanted);

}  // namespace pulsewright::live_stage
