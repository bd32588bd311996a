/// Which seconds of a recording are worth a look.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "pulsewright/pipeline.hpp"

namespace pulsewright {

/// Why a page was chosen. Each has a text under `strip.why.NAME`.
enum class ExcerptReason { beginning, calmest, hardest, most_flagged, most_rejected, least_sure, poorest_signal };

[[nodiscard]] const char* to_string(ExcerptReason reason);

/// Pages of `length` from 0 on, by number, with why each was chosen: the first readable one, those with the lowest and the highest rate, the most
/// flagged intervals, the most rejected candidates, the least sure beat, the poorest readable second. What does not occur chooses nothing.
[[nodiscard]] std::map<std::size_t, std::vector<ExcerptReason>> choose_excerpts(const Analysis& analysis,
                                                                                const ChosenSignals& chosen,
                                                                                Seconds length);

}  // namespace pulsewright
