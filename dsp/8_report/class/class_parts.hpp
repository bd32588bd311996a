/// The parts of a class report.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "8_report/figure/axis_ticks.hpp"
#include "8_report/figure/figure.hpp"
#include "8_report/page/traced_numbers.hpp"
#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/class_session.hpp"

namespace pulsewright {

/// The scales that everybody of a class is drawn on.
struct ClassScales {
  AxisRange effort_percent;  ///< per cent of reserve, 0 to 100 or more
  AxisRange time_s;          ///< 0 to the longest session
  AxisRange rate_bpm;        ///< every rate, target and ceiling
};
[[nodiscard]] ClassScales class_scales(const ClassComparison& comparison);

/// Place of a member's value in the class's JSON document, `members.3.effort.mean_hr_bpm`.
[[nodiscard]] std::string member_key(std::size_t member, const std::string& name);

/// A value with its interval, each number traced; the brackets only where the ends differ once rounded. `name` and `unit` make the three
/// keys, NAME_UNIT, NAME_low_UNIT and NAME_high_UNIT of the member's session.
[[nodiscard]] Markup ranged_percent(const Ranged& value, std::size_t member, const Words& words);
[[nodiscard]] Markup ranged_time(const Ranged& value, std::size_t member, const Words& words);

/// What a class is sorted by, in words; of the performance, that of its column.
[[nodiscard]] std::string measure_words(ClassMeasure measure, const PerformanceMeasure& performance,
                                        const Words& words);

/// A line a person: mean effort and time in the target, each drawn on one scale, and what else there is; to be sorted.
[[nodiscard]] Markup class_people(const ClassComparison& comparison, const ClassScales& scales, const Words& words);

/// The rate of one person over the session with their own target, on the scales of the class. A member without rates is hatched all over.
[[nodiscard]] Figure course_figure(const ClassMember& member, const ClassScales& scales, int height_px,
                                   const Words& words);
/// The figure in little room, without a frame that scrolls.
[[nodiscard]] Markup course_frame(const Figure& figure);

/// Everybody's course, small, with the data of all.
[[nodiscard]] Markup class_courses(const ClassComparison& comparison, const ClassScales& scales, const Words& words);

/// Effort against performance, with intervals; nothing where fewer than two people have both.
[[nodiscard]] std::optional<Figure> performance_figure(const ClassComparison& comparison, const ClassScales& scales,
                                                       const Words& words);

/// A slip for each person to cut off: their code, their own numbers, their course. Nothing of anybody else.
[[nodiscard]] Markup class_slips(const ClassComparison& comparison, const ClassScales& scales, const Words& words);

/// Who has no result, and which values are absent of whom, each with its reason; blank when nothing is.
[[nodiscard]] Markup class_unmeasured(const ClassComparison& comparison, const Words& words);

}  // namespace pulsewright
