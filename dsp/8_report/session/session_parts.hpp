/// The parts of a session report that are text and tables.
#pragma once

#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

/// Sentences, most wanted first; each number is marked with its place in the JSON document, each sentence links to what it rests on.
[[nodiscard]] Markup summary_sentences(const Analysis& analysis, const Words& words);

/// The table of variability.
[[nodiscard]] Markup numbers_table(const Variability& variability, const Words& words);

/// File, hash, options, version, signals; then the warnings of every stage.
[[nodiscard]] Markup origin_details(const SessionView& session, const Words& words);

/// The strip with its pages: the chosen ones for everybody, the others for those with scripts.
[[nodiscard]] Markup strip_section(const SessionView& session, const Words& words);

}  // namespace pulsewright
