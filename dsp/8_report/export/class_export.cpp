#include <fmt/format.h>

#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

const char* status_of(const ClassMember& member) {
  if (!member.session) return "failed";
  return member.session->effort.mean_rate ? "done" : "no_value";
}

std::string reason_of(const ClassMember& member) {
  if (!member.session) return member.failure;
  return member.session->effort.mean_rate ? "" : "no stretch of the session has a measured heart rate";
}

std::string time_of_day(const std::optional<double>& seconds) {
  if (!seconds) return {};
  const long whole = std::lround(*seconds);
  return fmt::format("{:02}:{:02}:{:02}", whole / 3600 % 24, whole / 60 % 60, whole % 60);
}

std::optional<double> low_of(const std::optional<Ranged>& value) {
  return value ? std::optional<double>(value->low) : std::nullopt;
}
std::optional<double> high_of(const std::optional<Ranged>& value) {
  return value ? std::optional<double>(value->high) : std::nullopt;
}
std::optional<double> middle_of(const std::optional<Ranged>& value) {
  return value ? std::optional<double>(value->value) : std::nullopt;
}

std::string prompt_codes(const ClassMember& member) {
  std::string codes;
  if (member.session)
    for (const Warning& prompt : member.session->prompts) codes += (codes.empty() ? "" : " ") + prompt.code;
  return codes;
}

const char* words_of(ClassMeasure measure) {
  switch (measure) {
    case ClassMeasure::code: return "code";
    case ClassMeasure::effort: return "mean effort (per cent of reserve)";
    case ClassMeasure::target: return "time in the target";
    case ClassMeasure::moderate: return "time at moderate intensity or harder";
    case ClassMeasure::load: return "load (weighted minutes)";
    case ClassMeasure::peak: return "peak effort (per cent of reserve)";
    case ClassMeasure::recovery: return "fall in the first minute after the last bout (beats/min)";
    case ClassMeasure::performance: break;
  }
  return "performance";
}

std::string order_of(const ClassComparison& comparison) {
  const ClassMeasure measure = comparison.options.sort_by;
  const bool usual = !comparison.options.least_first;
  if (measure == ClassMeasure::code) return usual ? "code" : "code, backwards";
  if (measure == ClassMeasure::performance)
    return comparison.performance.name + (usual ? ", best first" : ", best last");
  return std::string(words_of(measure)) + (usual ? ", highest first" : ", lowest first");
}

std::string place_of(const ClassMember& member) {
  if (!member.standing) return "";
  const auto [best, worst] = *member.standing;
  return best == worst ? std::to_string(best) : std::to_string(best) + " to " + std::to_string(worst);
}

/// A column of the table for people.
std::vector<std::string> table_row(const ClassMember& member, const PerformanceMeasure& performance) {
  const auto shown = [](const std::optional<Ranged>& value, int decimals) {
    return value ? ranged_text(*value, decimals, "") : "-";
  };
  std::vector<std::string> row{member.entry.code};
  if (!member.session) {
    row.insert(row.end(), {"-", "-", "-", "-", "-", "-", "-", "-"});
  } else {
    const SessionEffort& session = *member.session;
    const Effort& effort = session.effort;
    const std::int64_t measured = effort.duration_us - effort.unmeasured_us;
    row.push_back(clock_of(effort.duration_us));
    row.push_back(
        effort.duration_us > 0
            ? format_number(100.0 * static_cast<double>(measured) / static_cast<double>(effort.duration_us), 0) + " %"
            : "-");
    row.push_back(shown(session.mean_reserve_percent, 0));
    row.push_back(session.in_target_s && effort.mean_rate ? ranged_clock(*session.in_target_s) : "-");
    row.push_back(session.moderate_or_harder_s ? format_clock(Seconds{session.moderate_or_harder_s->value}) : "-");
    row.push_back(session.weighted_minutes ? format_number(session.weighted_minutes->value, 1) : "-");
    row.push_back(session.peak && session.peak->reserve_percent ? format_number(session.peak->reserve_percent, 0)
                                                                : "-");
    const bool fell = session.recovery && session.recovery->first_minute_fall;
    row.push_back(fell ? std::to_string(whole_beats(*session.recovery->first_minute_fall)) : "-");
  }
  if (!performance.name.empty())
    row.push_back(member.entry.performance ? fmt::format("{:g}", *member.entry.performance) : "-");
  row.push_back(place_of(member));
  return row;
}

void add_rules(TextPage& page, const ClassComparison& comparison) {
  page.paragraph(
      "Mean effort and peak are per cent of the person's own reserve, maximum - resting; times are minutes and "
      "seconds; load is weighted "
      "minutes (tenths of the maximum from 50 % up count 1 to 5); the fall is beats/min in the first minute after the "
      "last bout. In brackets 95 % intervals from "
      "the spread of the age formula.");
  if (comparison.options.sort_by != ClassMeasure::code)
    page.paragraph(
        "A place counts only differences larger than both intervals together. People with a place in common, as 1 to "
        "3, cannot be told apart.");
}

void add_effort_for_place(TextPage& page, const ClassComparison& comparison) {
  bool any = false;
  for (const ClassMember& member : comparison.members) {
    if (member.effort_for_place == EffortForPlace::unclear) continue;
    if (!any)
      page.blank().heading("Effort beside " + comparison.performance.name + " (against the middle of the class)");
    any = true;
    const bool ease = member.effort_for_place == EffortForPlace::ahead_at_ease;
    page.paragraph(
        member.entry.code + ": " + comparison.performance.name + " " + fmt::format("{:g}", *member.entry.performance) +
        " is in the " + (ease ? "better half" : "other half") + ", mean effort " +
        ranged_text(*member.session->mean_reserve_percent, 0, "%") + " clearly " + (ease ? "below" : "above") +
        " the middle of " + format_number(comparison.middle_effort_percent, 0) + " %: " +
        (ease ? "quick, with effort to spare." : "works hard for that place; the effort deserves the praise."));
  }
}

void add_prompts(TextPage& page, const ClassComparison& comparison) {
  bool any = false;
  for (const ClassMember& member : comparison.members) {
    if (!member.session) continue;
    for (const Warning& prompt : member.session->prompts) {
      if (!any) page.blank().heading("To look at and talk about (no diagnosis)");
      any = true;
      page.paragraph(member.entry.code + ": " + prompt.message);
    }
  }
}

void add_failures(TextPage& page, const ClassComparison& comparison) {
  bool any = false;
  for (const ClassMember& member : comparison.members) {
    const std::string reason = reason_of(member);
    if (reason.empty()) continue;
    if (!any) page.blank().heading("Without a result");
    any = true;
    page.paragraph(member.entry.code + " (line " + std::to_string(member.entry.line) + "): " + reason);
  }
}

Json member_body(const ClassMember& member) {
  Reasons reasons = member.session ? effort_reasons(member.session->effort) : Reasons{};
  Json body = Json::object();
  body["code"] = member.entry.code;
  body["file"] = member.entry.file_name;
  body["line"] = member.entry.line;
  body["status"] = status_of(member);
  body["reason"] = reason_of(member);
  const std::string begins = time_of_day(member.begins_s);
  put_word(body, reasons, "begins", begins.empty() ? nullptr : begins.c_str(),
           "neither the sheet nor the recording says at which time of day it begins");
  body["place_best"] = nullptr;
  body["place_worst"] = nullptr;
  if (member.standing) {
    body["place_best"] = member.standing->best;
    body["place_worst"] = member.standing->worst;
  } else {
    reasons.explain("place_best", "there is no value to place by");
    reasons.explain("place_worst", "there is no value to place by");
  }
  put(body, reasons, "performance", member.entry.performance, 3, "none was noted");
  body["effort_for_place"] = to_string(member.effort_for_place);
  body["effort"] = nullptr;
  if (member.session) {
    Json effort = effort_body(member.session->effort, reasons);
    effort["session"] = session_body(*member.session, reasons);
    body["effort"] = std::move(effort);
  } else {
    reasons.explain("effort", member.failure);
  }
  body["reasons"] = reasons.json();
  body["warnings"] = Json::array();
  if (member.session)
    for (const Warning& warning : member.session->effort.warnings)
      body["warnings"].push_back({{"code", warning.code}, {"message", warning.message}});
  return body;
}

}  // namespace

std::string class_csv(const ClassComparison& comparison, const NumberStyle& style) {
  CsvTable table({"code",
                  "file",
                  "status",
                  "reason",
                  "begins",
                  "place_best",
                  "place_worst",
                  "performance_measure",
                  "performance",
                  "effort_for_place",
                  "duration_s",
                  "unmeasured_s",
                  "mean_reserve_percent",
                  "mean_reserve_low_percent",
                  "mean_reserve_high_percent",
                  "in_target_s",
                  "in_target_low_s",
                  "in_target_high_s",
                  "above_target_s",
                  "moderate_or_harder_s",
                  "moderate_or_harder_percent",
                  "weighted_min",
                  "weighted_low_min",
                  "weighted_high_min",
                  "impulse_men",
                  "impulse_women",
                  "peak_mean_bpm",
                  "peak_reserve_percent",
                  "first_minute_fall_bpm",
                  "maximum_hr_bpm",
                  "maximum_source",
                  "resting_hr_bpm",
                  "resting_source",
                  "target_low_bpm",
                  "target_high_bpm",
                  "prompts"},
                 style);
  for (const ClassMember& member : comparison.members) {
    table.text(member.entry.code).text(member.entry.file_name).text(status_of(member)).text(reason_of(member));
    table.text(time_of_day(member.begins_s));
    table.count(member.standing ? std::optional<std::int64_t>(member.standing->best) : std::nullopt);
    table.count(member.standing ? std::optional<std::int64_t>(member.standing->worst) : std::nullopt);
    table.text(comparison.performance.name)
        .number(member.entry.performance, 3)
        .text(to_string(member.effort_for_place));
    const SessionEffort none;
    const SessionEffort& session = member.session ? *member.session : none;
    const Effort& effort = session.effort;
    const bool is = member.session.has_value(), measured = is && effort.mean_rate;
    table.number(is ? std::optional<double>(seconds_of(effort.duration_us)) : std::nullopt, 6);
    table.number(is ? std::optional<double>(seconds_of(effort.unmeasured_us)) : std::nullopt, 6);
    for (const auto& part : {middle_of(session.mean_reserve_percent), low_of(session.mean_reserve_percent),
                             high_of(session.mean_reserve_percent)})
      table.number(part, 2);
    for (const auto& part : {middle_of(session.in_target_s), low_of(session.in_target_s), high_of(session.in_target_s)})
      table.number(part, 6);
    table.number(
        measured && effort.above_target_us ? std::optional<double>(seconds_of(*effort.above_target_us)) : std::nullopt,
        6);
    table.number(middle_of(session.moderate_or_harder_s), 6).number(session.moderate_or_harder_percent, 2);
    for (const auto& part :
         {middle_of(session.weighted_minutes), low_of(session.weighted_minutes), high_of(session.weighted_minutes)})
      table.number(part, 2);
    table.number(middle_of(session.impulse_men), 2).number(middle_of(session.impulse_women), 2);
    table.number(session.peak ? std::optional<double>(session.peak->rate.value()) : std::nullopt, 2);
    table.number(session.peak ? session.peak->reserve_percent : std::nullopt, 2);
    table.number(session.recovery ? number_of(session.recovery->first_minute_fall) : std::nullopt, 2);
    table.number(effort.maximum ? std::optional<double>(effort.maximum->rate.value()) : std::nullopt, 2);
    table.text(effort.maximum ? to_string(effort.maximum->source) : "");
    table.number(effort.resting ? std::optional<double>(effort.resting->rate.value()) : std::nullopt, 2);
    table.text(effort.resting ? to_string(effort.resting->source) : "");
    table.number(effort.target ? std::optional<double>(effort.target->low.value()) : std::nullopt, 2);
    table.number(effort.target ? std::optional<double>(effort.target->high.value()) : std::nullopt, 2);
    table.text(prompt_codes(member));
    table.end_row();
  }
  return table.take();
}

std::string class_json(const ClassComparison& comparison) {
  Reasons reasons;
  Json body = Json::object();
  body["sorted_by"] = to_string(comparison.options.sort_by);
  body["least_first"] = comparison.options.least_first;
  body["performance_measure"] = comparison.performance.name;
  body["more_is_better"] = comparison.performance.more_is_better;
  put(body, reasons, "middle_effort_percent", comparison.middle_effort_percent, 2, "nobody has a mean effort");
  body["members"] = Json::array();
  for (const ClassMember& member : comparison.members) body["members"].push_back(member_body(member));
  return json_document("class", body, reasons, comparison.warnings, comparison.provenance);
}

std::string class_text(const ClassComparison& comparison) {
  TextPage page;
  page.heading("Class of " + std::to_string(comparison.members.size()) + " in " + comparison.provenance.input +
               ", by " + order_of(comparison))
      .blank();
  std::vector<std::string> head{"code",      "long", "measured", "effort %", "in target",
                                "moderate+", "load", "peak %",   "fall"};
  if (!comparison.performance.name.empty()) head.push_back(comparison.performance.name);
  head.push_back(comparison.options.sort_by == ClassMeasure::code ? "" : "place");
  std::vector<std::vector<std::string>> rows{head};
  for (const ClassMember& member : comparison.members) rows.push_back(table_row(member, comparison.performance));
  page.table(rows);
  page.blank();
  add_rules(page, comparison);
  add_effort_for_place(page, comparison);
  add_prompts(page, comparison);
  add_failures(page, comparison);
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
