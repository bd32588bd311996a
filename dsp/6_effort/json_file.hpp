/// A list that a person may write as JSON or as a table.
#pragma once

#include <optional>
#include <string>

#include "pulsewright/json.hpp"

namespace pulsewright {

/// The document in a text that begins as one, with `{` or `[`; nothing for any other text. Throws
/// Error{unreadable} with the line at which it ceases to be JSON, or nests deeper than `Json::deepest`.
[[nodiscard]] std::optional<Json> json_in(const std::string& text, const std::string& file);

}  // namespace pulsewright
