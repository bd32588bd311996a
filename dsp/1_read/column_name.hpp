/// Names of text columns and the units in them.
#pragma once

#include <string>
#include <string_view>

namespace pulsewright::reading {

struct ColumnName {
  std::string name;  ///< trimmed, without a unit in brackets; a unit suffix stays part of the name
  std::string unit;  ///< empty when the cell does not say
};

/// Reads a header cell. A unit stands in square brackets at the end (`ecg [mV]`), or when it is a known one in round brackets
/// (`pleth (counts)`) or as the last word after an underscore (`acc_x_g`, `time_s`) or after `in` (`Zeit in ms`). Known are s, ms, us, ns, min, V, mV, uV, g, mg, dps,
/// deg/s, rad/s, m/s2, counts (count, adc, raw), bpm, Hz, percent, mmHg, a.u., NU, ohm, samples. `lead_V` is a lead, not volts.
[[nodiscard]] ColumnName column_name(std::string_view cell);

/// Whether a cell is a unit by itself, bare or in brackets: a second header line.
[[nodiscard]] bool is_unit_cell(std::string_view cell);

/// A unit without the brackets around it.
[[nodiscard]] std::string bare_unit(std::string_view cell);

}  // namespace pulsewright::reading
