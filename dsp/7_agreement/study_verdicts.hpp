/// What published rules make of a study.
#pragma once

#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// The rules of accuracy: EC13, CTA-2065.
[[nodiscard]] std::vector<Verdict> accuracy_verdicts(const RateStudy& study);

/// The points that Muehlen et al. 2021 (Br J Sports Med 55:767) ask of a validation study of heart rate from wearables.
[[nodiscard]] std::vector<Verdict> study_checklist(const RateStudy& study);

}  // namespace pulsewright
