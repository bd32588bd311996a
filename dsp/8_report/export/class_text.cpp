#include <fmt/format.h>

#include <algorithm>

#include "class_words.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

std::string performance_name(const PerformanceMeasure& performance, const Words& words) {
  const std::string key = "class.performance." + performance.name;
  return words.has(key) ? words(key) : performance.name;
}

std::string measure_name(const ClassComparison& comparison, const Words& words) {
  return comparison.options.sort_by == ClassMeasure::performance
             ? performance_name(comparison.performance, words)
             : words(std::string("class.by.") + to_string(comparison.options.sort_by));
}

std::string clock_or_dash(const std::optional<std::int64_t>& us) { return us ? clock_of(*us) : "-"; }

/// `56 (51-62)`: narrow, because a table has many columns.
std::string with_ends(const std::optional<Ranged>& value, const Words& words) {
  if (!value) return "-";
  const std::string low = words.number(value->low, 0), high = words.number(value->high, 0);
  const std::string text = words.number(value->value, 0);
  return low == high ? text : fmt::format("{} ({}-{})", text, low, high);
}

/// What is not compared is taken over the whole recording, for want of better.
std::vector<std::string> table_row(const ClassComparison& comparison, const ClassMember& member, const Words& words) {
  const bool placed_by = comparison.options.sort_by != ClassMeasure::code;
  std::vector<std::string> row{member.entry.code + (by_maximum(member) ? " " + words("lesson.by_maximum") : "")};
  if (!member.session || !member.session->effort.mean_rate) {
    row.insert(row.end(), 8, "-");
  } else {
    const SessionEffort& session = *member.session;
    const StretchEffort shown = shown_stretch(member);
    const bool judged = is_judged(member);
    row.push_back(words.number(100.0 * shown.measured_share(), 0) + " %");
    row.push_back(judged ? with_ends(shown.mean_reserve_percent, words) : "-");
    row.push_back(judged ? clock_or_dash(shown.below_target_us) : "-");
    row.push_back(judged ? clock_or_dash(shown.in_target_us) : "-");
    row.push_back(judged ? clock_or_dash(shown.above_target_us) : "-");
    row.push_back(judged && shown.weighted_minutes ? words.number(shown.weighted_minutes->value, 1) : "-");
    const bool peak = judged && session.peak && session.peak->reserve_percent;
    row.push_back(peak ? words.number(*session.peak->reserve_percent, 0) : "-");
    const bool fell = session.recovery && session.recovery->first_minute_fall;
    row.push_back(fell ? std::to_string(whole_beats(*session.recovery->first_minute_fall)) : "-");
  }
  if (!comparison.performance.name.empty())
    row.push_back(member.entry.performance ? fmt::format("{:g}", *member.entry.performance) : "-");
  if (placed_by) row.push_back(member.standing ? place_words(comparison, member, words) : words("lesson.none"));
  return row;
}

void add_table(TextPage& page, const ClassComparison& comparison, const Words& words) {
  std::vector<std::string> head;
  for (const char* name : {"code", "measured", "effort", "below", "inside", "above", "load", "peak", "fall"})
    head.push_back(words(std::string("lesson.head.") + name));
  if (!comparison.performance.name.empty()) head.push_back(performance_name(comparison.performance, words));
  if (comparison.options.sort_by != ClassMeasure::code) head.push_back(words("lesson.head.place"));
  std::vector<std::vector<std::string>> rows{head};
  for (const ClassMember& member : comparison.members) rows.push_back(table_row(comparison, member, words));
  page.table(rows);
}

/// A heading above the first line only.
class Part {
 public:
  Part(TextPage& page, std::string heading) : page_(page), heading_(std::move(heading)) {}
  void say(const std::string& line) {
    if (!any_) page_.blank().heading(heading_);
    any_ = true;
    page_.paragraph(line);
  }

 private:
  TextPage& page_;
  std::string heading_;
  bool any_ = false;
};

void add_not_placed(TextPage& page, const ClassComparison& comparison, const Words& words) {
  Part part(page, words("lesson.not_placed"));
  for (const ClassMember& member : comparison.members) {
    if (member.not_placed == NotPlaced::placed) continue;
    const std::string why = member.failure.empty() ? not_placed_sentence(member, words) : member.failure;
    part.say(member.entry.code + ": " + why + ".");
  }
}

void add_effort_for_place(TextPage& page, const ClassComparison& comparison, const Words& words) {
  if (!comparison.middle_effort_percent) return;
  const std::string name = performance_name(comparison.performance, words);
  Part part(page, words("lesson.beside", {{"measure", name},
                                          {"percent", words.number(*comparison.middle_effort_percent, 0)}}));
  for (const ClassMember& member : comparison.members) {
    if (member.effort_for_place == EffortForPlace::unclear) continue;
    const bool ease = member.effort_for_place == EffortForPlace::ahead_at_ease;
    part.say(member.entry.code + ": " + words(ease ? "lesson.at_ease" : "lesson.at_limit", {{"measure", name}}) + ".");
  }
}

void add_rules(TextPage& page, const ClassComparison& comparison, const Words& words) {
  page.blank().paragraph(words("lesson.rules"));
  if (comparison.options.sort_by != ClassMeasure::code)
    page.paragraph(words(ranks_say_little(comparison) ? "lesson.ranks" : "class.place_rule"));
  const auto& members = comparison.members;
  if (std::any_of(members.begin(), members.end(), by_maximum))
    page.paragraph(words("lesson.by_maximum_note", {{"mark", words("lesson.by_maximum")}}));
}

}  // namespace

std::string class_text(const ClassComparison& comparison, Language language) {
  const Words words(language);
  TextPage page;
  page.heading(words(comparison.options.least_first ? "lesson.title_backwards" : "lesson.title",
                     {{"people", words.counted("people", static_cast<std::int64_t>(comparison.members.size()))},
                      {"input", comparison.provenance.input},
                      {"measure", measure_name(comparison, words)}}));
  page.paragraph(common_sentence(comparison, words)).blank();
  add_table(page, comparison, words);
  Part entries(page, words("lesson.entries"));
  for (const ClassFinding& finding : comparison.findings) entries.say(finding_sentence(finding, words));
  for (const Warning& warning : comparison.warnings) entries.say(warning.message);
  add_not_placed(page, comparison, words);
  Part prompts(page, words("lesson.prompts"));
  for (const ClassMember& member : comparison.members)
    if (member.session)
      for (const Warning& prompt : member.session->prompts) prompts.say(member.entry.code + ": " + prompt_sentence(prompt, words));
  add_effort_for_place(page, comparison, words);
  add_rules(page, comparison, words);
  page.blank();
  for (const char* caution : {"caution.device", "caution.stop", "caution.formula", "caution.doubt", "caution.private"})
    page.paragraph(words(caution));
  return page.take();
}

}  // namespace pulsewright
