/// A table that its reader may sort by any column; without scripts it reads as it stands.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "8_report/text/markup.hpp"

namespace pulsewright {

struct TableColumn {
  std::string name;
  bool number = false;  ///< set to the right, sorted by value
  Markup scale = {};    ///< stands under the heads, over a column of small drawings
};

struct TableCell {
  std::string shown;
  std::optional<double> value = std::nullopt;  ///< what a column of numbers is sorted by; cells without one come last
  Markup content = {};                         ///< in place of `shown`, where it is more than a text
};

/// The first cell of a row heads it. `name` says what the table is, for who cannot see that it scrolls. Rows must be as long as the columns.
[[nodiscard]] Markup sortable_table(const std::string& name, const std::string& caption,
                                    const std::vector<TableColumn>& columns,
                                    const std::vector<std::vector<TableCell>>& rows);

}  // namespace pulsewright
