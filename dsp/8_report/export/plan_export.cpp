#include <algorithm>
#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

std::string whole(BeatsPerMinute rate) { return std::to_string(whole_beats(rate)); }

std::string percents(const PlanPhase& phase) {
  return format_number(100.0 * phase.low_fraction, 0) + " to " + format_number(100.0 * phase.high_fraction, 0) + " %";
}

std::string name_of(PhaseKind kind) {
  Phase phase;
  phase.kind = kind;
  return words_of(phase);
}

}  // namespace

std::string plan_csv(const TargetTable& table, const PlanDurations& durations, const NumberStyle& style) {
  CsvTable csv(
      {"code", "phase", "kind", "start_s", "end_s", "low_percent", "high_percent", "method", "low_bpm", "high_bpm"},
      style);
  for (const PersonTarget& row : table.people) {
    if (!row.target) continue;
    std::int64_t number = 0;
    for (const PlanPhase& phase : session_plan(*row.target, durations)) {
      csv.text(row.person.code)
          .count(++number)
          .text(to_string(phase.kind))
          .number(phase.span.start.value(), 3)
          .number(phase.span.end.value(), 3);
      csv.number(100.0 * phase.low_fraction, 1)
          .number(100.0 * phase.high_fraction, 1)
          .text(row.target->from_reserve ? "reserve" : "maximum");
      csv.number(phase.low.value(), 2).number(phase.high.value(), 2).end_row();
    }
  }
  return csv.take();
}

std::string plan_json(const TargetTable& table, const PlanDurations& durations) {
  Json body = Json::object();
  body["people"] = Json::array();
  for (const PersonTarget& row : table.people) {
    Reasons reasons;
    Json entry = Json::object();
    entry["code"] = row.person.code;
    entry["method"] = nullptr;
    entry["phases"] = Json::array();
    if (!row.target) reasons.explain("method", row.reason);
    if (row.target) {
      entry["method"] = row.target->from_reserve ? "reserve" : "maximum";
      for (const PlanPhase& phase : session_plan(*row.target, durations))
        entry["phases"].push_back({{"kind", to_string(phase.kind)},
                                   {"start_s", json_number(phase.span.start.value(), 3)},
                                   {"end_s", json_number(phase.span.end.value(), 3)},
                                   {"low_percent", json_number(100.0 * phase.low_fraction, 1)},
                                   {"high_percent", json_number(100.0 * phase.high_fraction, 1)},
                                   {"low_bpm", json_number(phase.low.value(), 2)},
                                   {"high_bpm", json_number(phase.high.value(), 2)}});
    }
    entry["reasons"] = reasons.json();
    body["people"].push_back(std::move(entry));
  }
  return json_document("plan", body, Reasons{}, table.warnings, table.provenance);
}

std::string plan_text(const TargetTable& table, const PlanDurations& durations) {
  TextPage page;
  std::vector<const PersonTarget*> people;
  for (const PersonTarget& row : table.people)
    if (row.target) people.push_back(&row);
  if (people.empty()) return page.heading("No plan: nobody here has a target.").take();
  const std::vector<PlanPhase> first = session_plan(*people.front()->target, durations);
  const bool mixed = std::any_of(people.begin(), people.end(), [&](const PersonTarget* p) {
    return p->target->from_reserve != people.front()->target->from_reserve;
  });
  page.heading("Plan of " + format_clock(first.back().span.end) + " (minutes and seconds)" +
               (people.size() > 1                     ? ", in beats/min for each person"
                : people.front()->person.code.empty() ? ""
                                                      : " for " + people.front()->person.code))
      .blank();
  if (people.size() == 1) {
    const bool reserve = people.front()->target->from_reserve;
    std::vector<std::vector<std::string>> rows{
        {"phase", "from", "to", "long", reserve ? "of the reserve" : "of the maximum", "beats/min", "in 15 s"}};
    for (const PlanPhase& phase : first)
      rows.push_back(
          {name_of(phase.kind), format_clock(phase.span.start), format_clock(phase.span.end),
           format_clock(phase.span.length()), percents(phase), whole(phase.low) + " to " + whole(phase.high),
           std::to_string((whole_beats(phase.low) + 3) / 4) + " to " + std::to_string(whole_beats(phase.high) / 4)});
    page.table(rows);
  } else {
    // A line a person and a column a kind of phase: a printed line fits in the hand.
    page.paragraph("The course, the same for everyone:");
    std::vector<std::vector<std::string>> course{{"phase", "from", "to", "long",
                                                  mixed                                  ? ""
                                                  : people.front()->target->from_reserve ? "of the reserve"
                                                                                         : "of the maximum"}};
    for (const PlanPhase& phase : first)
      course.push_back({name_of(phase.kind), format_clock(phase.span.start), format_clock(phase.span.end),
                        format_clock(phase.span.length()), mixed ? "" : percents(phase)});
    page.table(course).blank();
    const bool pauses =
        std::any_of(first.begin(), first.end(), [](const PlanPhase& p) { return p.kind == PhaseKind::pause; });
    std::vector<std::string> head{"code", "warm-up", "work"};
    if (pauses) head.push_back("pause");
    head.push_back("cool-down");
    std::vector<std::vector<std::string>> rows{head};
    for (const PersonTarget* person : people) {
      const std::vector<PlanPhase> plan = session_plan(*person->target, durations);
      std::vector<std::string> row{person->person.code};
      for (const PhaseKind kind : {PhaseKind::warm_up, PhaseKind::work, PhaseKind::pause, PhaseKind::cool_down}) {
        const auto phase = std::find_if(plan.begin(), plan.end(), [&](const PlanPhase& p) { return p.kind == kind; });
        if (phase != plan.end()) row.push_back(whole(phase->low) + " to " + whole(phase->high));
      }
      rows.push_back(row);
    }
    page.table(rows);
  }
  for (const PersonTarget& row : table.people)
    if (!row.target) page.paragraph(row.person.code + ": no plan, because " + row.reason + ".");
  page.blank().paragraph(
      "Warm up from light effort to the lower end of the target; ease off at the end for about as long. Rates follow "
      "an estimate of the "
      "maximum where it was not measured: breath and effort go first.");
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
