#include "8_report/text/csv_table.hpp"
#include "class_words.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

const char* status_of(const ClassMember& member) {
  if (!member.session) return "failed";
  return member.session->effort.mean_rate ? "done" : "no_value";
}

std::string time_of_day(const std::optional<double>& seconds) { return seconds ? time_of_day_text(*seconds) : ""; }

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
  body["not_placed"] = to_string(member.not_placed);
  body["compared"] = nullptr;
  if (member.compared)
    body["compared"] = stretch_body(*member.compared, reasons);
  else
    reasons.explain("compared", "nothing that is common to the class could be found in it");
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
                  "prompts",
                  "not_placed",
                  "compared_s",
                  "compared_unmeasured_s",
                  "compared_reserve_percent",
                  "compared_reserve_low_percent",
                  "compared_reserve_high_percent",
                  "compared_below_target_s",
                  "compared_in_target_s",
                  "compared_above_target_s",
                  "work_reserve_percent",
                  "target_method"},
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
    table.text(prompt_codes(member)).text(to_string(member.not_placed));
    const StretchEffort nothing;
    const StretchEffort& compared = member.compared ? *member.compared : nothing;
    const auto time = [&](bool there, std::optional<std::int64_t> us) {
      table.number(there && us ? std::optional<double>(seconds_of(*us)) : std::nullopt, 6);
    };
    time(member.compared.has_value(), compared.length_us);
    time(member.compared.has_value(), compared.unmeasured_us);
    for (const auto& part : {middle_of(compared.mean_reserve_percent), low_of(compared.mean_reserve_percent),
                             high_of(compared.mean_reserve_percent)})
      table.number(part, 2);
    time(true, compared.below_target_us);
    time(true, compared.in_target_us);
    time(true, compared.above_target_us);
    table.number(session.work ? middle_of(session.work->mean_reserve_percent) : std::nullopt, 2);
    table.text(!effort.target ? "" : effort.target->from_reserve ? "reserve" : "maximum");
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
  const CommonStretch& common = comparison.common;
  const bool on_clock = common.basis == CommonBasis::clock;
  const bool has_ends = on_clock || common.basis == CommonBasis::course || common.basis == CommonBasis::start;
  body["compared_by"] = to_string(common.basis);
  const auto end = [&](const char* key, Seconds at) {
    body[key] = nullptr;
    if (has_ends)
      body[key] = json_number(at.value(), 3);
    else
      reasons.explain(key, "the stretches compared are no stretch of one clock");
  };
  end("common_start_s", common.lesson.start);
  end("common_end_s", common.lesson.end);
  put(body, reasons, "middle_effort_percent", comparison.middle_effort_percent, 2, "nobody has a mean effort");
  body["members"] = Json::array();
  for (const ClassMember& member : comparison.members) body["members"].push_back(member_body(member));
  Warnings warnings = comparison.warnings;
  for (Warning& warning : finding_warnings(comparison.findings)) warnings.push_back(std::move(warning));
  return json_document("class", body, reasons, warnings, comparison.provenance);
}

}  // namespace pulsewright
