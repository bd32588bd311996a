/// The parts of a class report.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "8_report/figure/axis_ticks.hpp"
#include "8_report/figure/figure.hpp"
#include "8_report/page/traced_numbers.hpp"
#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/class_session.hpp"

namespace pulsewright {

/// The scales that everybody of a class is drawn on.
///
/// One wrong recording does not squash the others: a scale holds what lies within three quartile distances of the middle
/// half of the class, and what lies beyond is drawn at its edge.
struct ClassScales {
  AxisRange effort_percent;         ///< per cent of reserve, 0 to 100 or more
  AxisRange time_s;                 ///< of the lesson where places in it are known, else of each recording
  AxisRange rate_bpm;               ///< rates, targets and ceilings
  double origin_s = 0;              ///< where in the lesson second 0 of `time_s` lies
  std::optional<AxisRange> common;  ///< what is compared, where it does not fill `time_s`

  /// Where on `time_s` the member's second 0 lies.
  [[nodiscard]] double offset_of(const ClassMember& member) const {
    return member.lesson_s ? member.lesson_s->value() - origin_s : 0.0;
  }
};
[[nodiscard]] ClassScales class_scales(const ClassComparison& comparison);

/// The ends of those values that lie within three quartile distances of the middle half (Tukey 1977: beyond is "far out");
/// nothing of no values.
[[nodiscard]] std::optional<AxisRange> without_far_out(std::vector<double> values);

/// Place of a member's value in the class's JSON document, `members.3.effort.mean_hr_bpm`.
[[nodiscard]] std::string member_key(std::size_t member, const std::string& name);

/// What is shown of a member: of what is compared where that is known, else of the whole recording. `key` is where it
/// stands in the document.
struct ShownEffort {
  std::optional<Ranged> mean_reserve_percent, in_target_s;
  std::optional<std::int64_t> below_target_us, above_target_us;
  std::int64_t length_us = 0, unmeasured_us = 0;
  std::string ranged_key;  ///< before `mean_reserve_percent` and its likes
  std::string time_key;    ///< before `below_target_s` and its likes
  std::string length_name = "length_s";
};
/// Nothing of a member without a rate.
[[nodiscard]] std::optional<ShownEffort> shown_effort(const ClassMember& member, std::size_t position);

/// A value with its interval, each number traced; the brackets only where the ends differ once rounded.
[[nodiscard]] Markup ranged_percent(const Ranged& value, const std::string& key, const Words& words);
[[nodiscard]] Markup ranged_time(const Ranged& value, const std::string& key, const Words& words);

/// `below 2:10, in target 3:00, above 1:05`, each traced; blank where there is no target.
[[nodiscard]] Markup target_times(const ShownEffort& shown, const Words& words);

/// What a class is sorted by, in words; of the performance, that of its column.
[[nodiscard]] std::string measure_words(ClassMeasure measure, const PerformanceMeasure& performance,
                                        const Words& words);

/// A sentence a person, with the place in words.
[[nodiscard]] Markup class_glance(const ClassComparison& comparison, const Words& words);

/// What does not fit between roster, sheet and recordings, and things to ask the person about; blank when there is nothing.
[[nodiscard]] Markup class_prompts(const ClassComparison& comparison, const Words& words);

/// Who has no place, each with why; blank when everybody has one.
[[nodiscard]] Markup class_not_placed(const ClassComparison& comparison, const Words& words);

/// Load of the whole recordings, folded away: it adds nothing to a lesson's question.
[[nodiscard]] Markup class_load(const ClassComparison& comparison, const Words& words);

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

/// Which values are absent of whom, each with its reason; blank when nothing is.
[[nodiscard]] Markup class_absent(const ClassComparison& comparison, const Words& words);

}  // namespace pulsewright
