/// The differences of a study as a mixed model.
#pragma once

#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// See `RateStudy::model`. Pairs of the records have their people's numbers.
[[nodiscard]] std::optional<MixedModel> model_of(const std::vector<const ComparedRecord*>& records);

}  // namespace pulsewright
