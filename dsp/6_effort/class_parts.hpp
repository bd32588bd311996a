/// The parts that the comparison of a class is put together from.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/class_session.hpp"

namespace pulsewright {

/// Fills `lesson_s` of every member whose place in the lesson is known; says how.
[[nodiscard]] CommonBasis locate_members(std::vector<ClassMember>& members);

/// Where the course of `member` fits that of the lesson, both in steps of `course_step`: how many steps after the start
/// of the lesson it begins. Nothing where it fits nowhere, or in two places.
inline constexpr Seconds course_step{2.0};
using Course = std::vector<double>;  ///< beats/min; NaN where not measured
[[nodiscard]] Course course_of(const ClassMember& member);
[[nodiscard]] std::optional<std::int64_t> fit_course(const Course& lesson, const Course& member);

/// The stretch that the class is compared over; fills `lesson_s` and `compared` of every member that has a part in it.
[[nodiscard]] CommonStretch find_common_stretch(std::vector<ClassMember>& members);

/// Fills `objections` and `not_placed` of everybody.
void judge_members(std::vector<ClassMember>& members, const CommonStretch& common);

/// Other members of whom the same recording, or a part of it, is used; and those on whose lines the same code stands.
[[nodiscard]] std::vector<const ClassMember*> sharing_recording(const ClassMember& member,
                                                                const std::vector<ClassMember>& members);
[[nodiscard]] std::vector<const ClassMember*> sharing_code(const ClassMember& member,
                                                           const std::vector<ClassMember>& members);

/// How many times too long the member's recording is beside the others', where its rates are as many times too low.
/// Nothing where the stated sampling rate is not in doubt, or none was stated.
[[nodiscard]] std::optional<double> sampling_doubt(const ClassMember& member, const std::vector<ClassMember>& members);

}  // namespace pulsewright
