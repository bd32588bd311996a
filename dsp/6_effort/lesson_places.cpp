#include <algorithm>
#include <cmath>
#include <limits>

#include "class_parts.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

bool is_measured(const ClassMember& member) { return member.session && member.session->effort.mean_rate; }

/// The middle of all located courses, in steps from `origin_s` on.
struct LessonCourse {
  double origin_s = 0;
  Course rates;
};

LessonCourse lesson_of(const std::vector<ClassMember>& members, const std::vector<Course>& courses,
                       const ClassMember* without) {
  LessonCourse lesson;
  double end = -std::numeric_limits<double>::infinity();
  lesson.origin_s = -end;
  const double step = course_step.value();
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (!members[i].lesson_s || &members[i] == without) continue;
    lesson.origin_s = std::min(lesson.origin_s, members[i].lesson_s->value());
    end = std::max(end, members[i].lesson_s->value() + step * static_cast<double>(courses[i].size()));
  }
  if (!(end > lesson.origin_s)) return lesson;
  std::vector<std::vector<double>> all(static_cast<std::size_t>(std::ceil((end - lesson.origin_s) / step)) + 1);
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (!members[i].lesson_s || &members[i] == without) continue;
    const auto first = static_cast<std::size_t>(std::lround((members[i].lesson_s->value() - lesson.origin_s) / step));
    for (std::size_t k = 0; k < courses[i].size() && first + k < all.size(); ++k)
      if (!std::isnan(courses[i][k])) all[first + k].push_back(courses[i][k]);
  }
  for (std::vector<double>& rates : all)
    lesson.rates.push_back(rates.empty() ? std::numeric_limits<double>::quiet_NaN() : median(std::span(rates)));
  return lesson;
}

void place_by_course(ClassMember& member, const Course& course, const LessonCourse& lesson) {
  const std::optional<std::int64_t> lag = fit_course(lesson.rates, course);
  member.lesson_s.reset();
  if (lag) member.lesson_s = Seconds{lesson.origin_s + course_step.value() * static_cast<double>(*lag)};
}

/// Lays everybody over the longest measured course, then everybody over the middle of all.
bool place_all_by_course(std::vector<ClassMember>& members, const std::vector<Course>& courses) {
  std::size_t longest = members.size();
  std::int64_t most = 0;
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (!is_measured(members[i])) continue;
    const std::int64_t measured = members[i].session->effort.duration_us - members[i].session->effort.unmeasured_us;
    if (measured > most) most = measured, longest = i;
  }
  if (longest == members.size()) return false;
  members[longest].lesson_s = Seconds{0.0};
  for (const bool first_time : {true, false}) {
    const LessonCourse seed = lesson_of(members, courses, nullptr);
    for (std::size_t i = 0; i < members.size(); ++i) {
      if (i == longest || !is_measured(members[i])) continue;
      place_by_course(members[i], courses[i], first_time ? seed : lesson_of(members, courses, &members[i]));
    }
  }
  // Counted from the one that began first.
  double first = 0;
  std::size_t placed = 0;
  for (const ClassMember& member : members)
    if (member.lesson_s) first = std::min(first, member.lesson_s->value()), ++placed;
  for (ClassMember& member : members)
    if (member.lesson_s) member.lesson_s = *member.lesson_s - Seconds{first};
  return placed > 1;
}

/// Whether all are as long as each other to within a tenth.
bool as_long_as_each_other(const std::vector<ClassMember>& members) {
  double shortest = std::numeric_limits<double>::infinity(), longest = 0;
  for (const ClassMember& member : members) {
    if (!is_measured(member)) continue;
    const auto length = static_cast<double>(member.session->effort.duration_us);
    shortest = std::min(shortest, length);
    longest = std::max(longest, length);
  }
  constexpr double alike = 0.9;
  return longest > 0 && shortest >= alike * longest;
}

}  // namespace

CommonBasis locate_members(std::vector<ClassMember>& members) {
  std::vector<Course> courses;
  courses.reserve(members.size());
  std::size_t clocks = 0;
  for (ClassMember& member : members) {
    courses.push_back(course_of(member));
    member.lesson_s.reset();
    if (!is_measured(member) || !member.begins_s) continue;
    member.lesson_s = Seconds{*member.begins_s};
    ++clocks;
  }
  if (clocks > 0) {
    const LessonCourse lesson = lesson_of(members, courses, nullptr);
    for (std::size_t i = 0; i < members.size(); ++i)
      if (is_measured(members[i]) && !members[i].begins_s) place_by_course(members[i], courses[i], lesson);
    return CommonBasis::clock;
  }
  if (place_all_by_course(members, courses)) return CommonBasis::course;
  for (ClassMember& member : members) member.lesson_s.reset();
  if (!as_long_as_each_other(members)) return CommonBasis::none;
  for (ClassMember& member : members)
    if (is_measured(member)) member.lesson_s = Seconds{0.0};
  return CommonBasis::start;
}

}  // namespace pulsewright
