/// Names that people give to the columns of a roster or a sheet, in the languages that reports speak.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "pulsewright/error.hpp"
#include "pulsewright/person.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright {

/// A column by our name, and other names for it, parted by blanks; each lower case, with `_` for blanks and dashes.
struct ColumnNames {
  const char* column;
  const char* others;
};

extern const std::span<const ColumnNames> roster_names;
extern const std::span<const ColumnNames> sheet_names;

/// Gives columns that have one of the other names ours, unless the table has that one already. What was understood is
/// told in one warning, `columns_understood`. A unit in brackets at the end of a name is passed over.
[[nodiscard]] Warnings understand_columns(Table& table, std::span<const ColumnNames> names);

/// `female`, `male`, and usual words and letters for them; `d`, `x` and their likes are unstated. Nothing for another word.
[[nodiscard]] std::optional<Sex> sex_in(std::string_view word);

}  // namespace pulsewright
