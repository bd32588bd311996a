/// Values that a result does not have, and why, for people.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "8_report/words/words.hpp"
#include "markup.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

/// What a value of the JSON document is called: the text `absent.KEY` or `measure.KEY`, else the key.
[[nodiscard]] std::string absent_name(std::string_view key, const Words& words);

/// A list with an item for each reason and the values that it holds for; blank when there is none. Reasons are said in English by the stages.
[[nodiscard]] Markup absent_values(const std::vector<Reason>& reasons, const Words& words);

}  // namespace pulsewright
