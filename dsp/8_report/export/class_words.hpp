/// What is said of a class in several places: why there is no result, and what was compared.
#pragma once

#include <string>

#include "8_report/words/words.hpp"
#include "pulsewright/class_session.hpp"

namespace pulsewright {

/// Why a member has no result; empty where there is one.
[[nodiscard]] std::string reason_of(const ClassMember& member);

/// `10:05:30` of seconds after midnight.
[[nodiscard]] std::string time_of_day_text(double seconds);

/// What the class is compared over, as a sentence.
[[nodiscard]] std::string common_sentence(const ClassComparison& comparison, const Words& words);

/// A finding about roster and sheet, as a sentence.
[[nodiscard]] std::string finding_sentence(const ClassFinding& finding, const Words& words);

/// A prompt in the language: as the stage says it, with its numbers, in English; else its rule.
[[nodiscard]] std::string prompt_sentence(const Warning& prompt, const Words& words);

/// One objection, as a sentence that the member may read.
[[nodiscard]] std::string objection_sentence(const ClassMember& member, NotPlaced why, const Words& words);

/// Why a member has no place, as a sentence that the member may read; empty for one who has.
[[nodiscard]] std::string not_placed_sentence(const ClassMember& member, const Words& words);

/// Whether most of those who are placed cannot be told from most of the others, so that ranks would only look exact.
[[nodiscard]] bool ranks_say_little(const ClassComparison& comparison);

/// `1 to 3`, or how many are clearly behind and ahead; empty without a place.
[[nodiscard]] std::string place_words(const ClassComparison& comparison, const ClassMember& member, const Words& words);

/// One line of what a lesson was for somebody: how hard, how long of it, and how much was measured.
[[nodiscard]] std::string lesson_sentence(const ClassMember& member, const Words& words);

/// What a table shows of a member: what is compared, else the whole recording.
[[nodiscard]] StretchEffort shown_stretch(const ClassMember& member);

/// Whether target and effort may be spoken of: what they rest on, the person's rates and whose recording it is, is not in
/// doubt, and enough was measured.
[[nodiscard]] bool is_judged(const ClassMember& member);

/// Marks those whose target goes by share of the maximum, in tables beside others who have a resting rate.
[[nodiscard]] bool by_maximum(const ClassMember& member);

}  // namespace pulsewright
