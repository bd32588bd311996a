/// Stage 8 for effort: sessions, classes, targets of a roster, plans and logs as text, CSV and JSON.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/class_session.hpp"
#include "pulsewright/plan.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/session.hpp"
#include "pulsewright/training_log.hpp"

namespace pulsewright {

/// One session: a row, its phases a row each, its rate course a row a cell; a document; a page.
[[nodiscard]] std::string session_csv(const SessionEffort& session, const NumberStyle& style = {});
[[nodiscard]] std::string phases_csv(const SessionEffort& session, const NumberStyle& style = {});
[[nodiscard]] std::string course_csv(const SessionEffort& session, const NumberStyle& style = {});
[[nodiscard]] std::string session_json(const SessionEffort& session);
[[nodiscard]] std::string session_text(const SessionEffort& session);

/// The session report with what `study_session` found in the same rates: phases under the rate, and the recovery with its fitted curve.
[[nodiscard]] std::string session_report(const SessionView& view, const SessionEffort& session,
                                         Language language = Language::english);
[[nodiscard]] std::vector<FigureFile> session_figures(const SessionView& view, const SessionEffort& session,
                                                      Language language = Language::english);

/// A class: a row a session; a document with everything of every session, from which a class can be drawn; a page.
[[nodiscard]] std::string class_csv(const ClassComparison& comparison, const NumberStyle& style = {});
[[nodiscard]] std::string class_json(const ClassComparison& comparison);
[[nodiscard]] std::string class_text(const ClassComparison& comparison);

/// A class for people, as one HTML file like a session's: a line a person on one scale, to be sorted; everybody's course small on one scale with their own target;
/// effort beside performance where the sheet has one; prompts; what could not be measured and why; and slips to cut off, one a person, that speak of nobody else. Numbers
/// carry their place in the JSON document (`<data value data-key>`). Messages of the stages are English in every language.
[[nodiscard]] std::string class_report(const ClassComparison& comparison, Language language = Language::english);

/// The target of one person of a roster; nothing, with why, where there is none.
struct PersonTarget {
  Person person;
  std::optional<TargetZone> target;
  std::string reason;
};
struct TargetTable {
  std::vector<PersonTarget> people;
  Warnings warnings;
  Provenance provenance;
};
/// Targets of a roster. An equation that does not fit a person (one for women, for a man) is that person's reason.
[[nodiscard]] TargetTable target_table(const Roster& roster, const EffortOptions& options = {});
[[nodiscard]] std::string target_table_csv(const TargetTable& table, const NumberStyle& style = {});
[[nodiscard]] std::string target_table_json(const TargetTable& table);
[[nodiscard]] std::string target_table_text(const TargetTable& table);

/// A plan for one person or several: a row a phase and person.
[[nodiscard]] std::string plan_csv(const TargetTable& table, const PlanDurations& durations,
                                   const NumberStyle& style = {});
[[nodiscard]] std::string plan_json(const TargetTable& table, const PlanDurations& durations);
[[nodiscard]] std::string plan_text(const TargetTable& table, const PlanDurations& durations);

/// A log as it is kept, and week by week.
[[nodiscard]] std::string log_csv(const std::vector<LogEntry>& log);
[[nodiscard]] std::string weeks_csv(const std::vector<LogWeek>& weeks, const NumberStyle& style = {});
[[nodiscard]] std::string weeks_json(const std::vector<LogWeek>& weeks, const Provenance& provenance);
[[nodiscard]] std::string weeks_text(const std::vector<LogWeek>& weeks);

/// The resting rate's readings and, where it was counted, the rounding error of counts of every length, as a page.
[[nodiscard]] std::string resting_text(BeatsPerMinute resting, std::optional<double> age_years,
                                       const std::optional<RestingCount>& count);

}  // namespace pulsewright
