#include "class_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

bool has_place(const ClassMember& member) { return member.standing.has_value(); }

std::size_t placed_count(const ClassComparison& comparison) {
  std::size_t placed = 0;
  for (const ClassMember& member : comparison.members) placed += has_place(member) ? 1 : 0;
  return placed;
}

}  // namespace

std::string reason_of(const ClassMember& member) {
  if (!member.session) return member.failure;
  return member.session->effort.mean_rate ? "" : "no stretch of the session has a measured heart rate";
}

std::string time_of_day_text(double seconds) {
  const long whole = std::lround(seconds);
  return fmt::format("{:02}:{:02}:{:02}", whole / 3600 % 24, whole / 60 % 60, whole % 60);
}

std::string common_sentence(const ClassComparison& comparison, const Words& words) {
  const CommonStretch& common = comparison.common;
  const std::string key = std::string("lesson.common.") + to_string(common.basis);
  switch (common.basis) {
    case CommonBasis::clock:
      return words(key, {{"start", time_of_day_text(common.lesson.start.value())},
                         {"end", time_of_day_text(common.lesson.end.value())},
                         {"length", words.length(common.lesson.length())}});
    case CommonBasis::course:
      return words(key, {{"start", words.length(common.lesson.start)},
                         {"length", words.length(common.lesson.length())}});
    case CommonBasis::start: return words(key, {{"length", words.length(common.lesson.length())}});
    case CommonBasis::none:
    case CommonBasis::sheet:
    case CommonBasis::marks: break;
  }
  return words(key);
}

std::string finding_sentence(const ClassFinding& finding, const Words& words) {
  std::string others;
  for (const std::string& code : finding.others) others += (others.empty() ? "" : ", ") + code;
  const bool rate = finding.fault == ClassFault::rate_hz_doubtful;
  return words(std::string("finding.") + to_string(finding.fault),
               {{"code", finding.code},
                {"line", words.count(finding.line)},
                {"above", words.count(finding.other_line)},
                {"others", others},
                {"value", words.number(finding.value, rate ? 1 : 0)}});
}

std::string prompt_sentence(const Warning& prompt, const Words& words) {
  const std::string key = "prompt." + prompt.code;
  return words.language() == Language::english || !words.has(key) ? prompt.message : words(key);
}

std::string objection_sentence(const ClassMember& member, NotPlaced why, const Words& words) {
  const std::string key = std::string("lesson.not_placed.") + to_string(why);
  if (why != NotPlaced::little_measured) return words(key);
  return words(key, {{"percent", words.number(100.0 * member.compared->measured_share(), 0)},
                     {"needed", words.number(100.0 * least_measured_share, 0)}});
}

std::string not_placed_sentence(const ClassMember& member, const Words& words) {
  return member.not_placed == NotPlaced::placed ? "" : objection_sentence(member, member.not_placed, words);
}

bool ranks_say_little(const ClassComparison& comparison) {
  const std::size_t placed = placed_count(comparison);
  std::size_t wide = 0;
  for (const ClassMember& member : comparison.members)
    if (has_place(member))
      wide += 2 * static_cast<std::size_t>(member.standing->worst - member.standing->best) > placed ? 1 : 0;
  return 2 * wide > placed;
}

std::string place_words(const ClassComparison& comparison, const ClassMember& member, const Words& words) {
  if (!has_place(member)) return {};
  const auto [best, worst] = *member.standing;
  if (!ranks_say_little(comparison))
    return best == worst ? words.count(best)
                         : words("class.places", {{"best", words.count(best)}, {"worst", words.count(worst)}});
  const auto placed = static_cast<std::int64_t>(placed_count(comparison));
  if (best == 1 && worst == placed) return words("lesson.untold");
  return words("lesson.ahead_behind", {{"ahead", words.count(placed - worst)}, {"behind", words.count(best - 1)}});
}

std::string lesson_sentence(const ClassMember& member, const Words& words) {
  if (!member.session || !member.session->effort.mean_rate) return words("lesson.not_placed.no_recording");
  const SessionEffort& session = *member.session;
  const Effort& effort = session.effort;
  if (!is_judged(member) || !effort.in_target_us) return not_placed_sentence(member, words);
  const double measured = effort.duration_us > 0
                              ? 100.0 * (1.0 - static_cast<double>(effort.unmeasured_us) /
                                                   static_cast<double>(effort.duration_us))
                              : 0.0;
  const std::string percent = words.number(measured, 0);
  if (!session.work || !session.work->in_target_us)
    return words("lesson.worked_nothing",
                 {{"hard", words.length(Seconds{seconds_of(*effort.in_target_us + *effort.above_target_us)})},
                  {"percent", percent}});
  const StretchEffort& work = *session.work;
  return words("lesson.worked",
               {{"hard", words.length(Seconds{seconds_of(*work.in_target_us + *work.above_target_us)})},
                {"work", words.length(Seconds{seconds_of(work.length_us)})},
                {"percent", percent}});
}

StretchEffort shown_stretch(const ClassMember& member) {
  if (member.compared) return *member.compared;
  return effort_over(*member.session, std::vector{Span{Seconds{0.0}, Seconds{seconds_of(member.session->effort.duration_us)}}});
}

bool is_judged(const ClassMember& member) {
  switch (member.not_placed) {
    case NotPlaced::placed:
    case NotPlaced::no_resting:
    case NotPlaced::no_common_stretch:
    case NotPlaced::not_located: return member.session && member.session->effort.mean_rate;
    default: return false;
  }
}

bool by_maximum(const ClassMember& member) {
  return member.session && member.session->effort.target && !member.session->effort.target->from_reserve;
}

Warnings finding_warnings(const std::vector<ClassFinding>& findings) {
  const Words words(Language::english);
  Warnings warnings;
  for (const ClassFinding& finding : findings)
    warnings.push_back({to_string(finding.fault), finding_sentence(finding, words)});
  return warnings;
}

}  // namespace pulsewright
