/// The figures of a study of agreement, for whatever they stand in.
#pragma once

#include <vector>

#include "8_report/figure/figure.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {

/// The limits that stand for the pairs: of several a person where there are, else plain ones; null where there are none.
[[nodiscard]] const LimitsOfAgreement* limits_of(const PairedAgreement& agreement);

/// In the order of `study_figures`; none when nothing was analysed.
[[nodiscard]] std::vector<Figure> figures_of(const RateStudy& study, const Words& words);

}  // namespace pulsewright
