/// A class: its sheet and roster through every stage, and what can be made of it.
#include <optional>
#include <string>

#include "calls.hpp"
#include "pulsewright/class_members.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/roster.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright::page {
namespace {

std::optional<ClassComparison>& open_class() {
  static std::optional<ClassComparison> comparison;
  return comparison;
}

Json told(const Warnings& warnings) {
  Json list = Json::array();
  for (const Warning& warning : warnings) list.push_back({{"code", warning.code}, {"message", warning.message}});
  return list;
}

std::string result_of(const ClassComparison& comparison, const std::string& what, Language language) {
  if (what == "class.html") return class_report(comparison, language);
  if (what == "class.json") return class_json(comparison);
  if (what == "class.csv") return class_csv(comparison);
  if (what == "class.txt") return class_text(comparison);
  throw Error(ErrorCode::usage, "no result of a class is named " + what);
}

}  // namespace

Json sheet_files(const Json& asked) {
  const SessionSheet sheet = read_session_sheet(text_of(asked, "sheet"));
  Json files = Json::array();
  for (const SheetEntry& entry : sheet.entries) {
    files.push_back({{"code", entry.code}, {"file", entry.file_name}});
    if (entry.marks) files.push_back({{"code", entry.code}, {"file", entry.marks->string()}});
  }
  return {{"files", files}, {"performance", sheet.performance.name}, {"warnings", told(sheet.warnings)}};
}

Json table(const Json& asked) {
  const Table table = read_table(text_of(asked, "file"));
  Json rows = Json::array();
  for (const TableRow& row : table.rows) rows.push_back(row.cells);
  return {{"columns", table.columns}, {"rows", rows}};
}

Json roster_people(const Json& asked) {
  const Roster roster = read_roster(text_of(asked, "roster"));
  Json people = Json::array();
  const auto rate = [](const std::optional<BeatsPerMinute>& value) { return value ? Json(value->value()) : Json(); };
  for (const Person& person : roster.people)
    people.push_back({{"code", person.code},
                      {"age_years", person.age_years ? Json(*person.age_years) : Json()},
                      {"sex", person.sex == Sex::unstated ? Json() : Json(to_string(person.sex))},
                      {"resting_bpm", rate(person.resting)},
                      {"maximum_bpm", rate(person.measured_maximum)},
                      {"ceiling_bpm", rate(person.own_ceiling)},
                      {"exercise", to_string(person.exercise)}});
  return {{"people", people}, {"warnings", told(roster.warnings)}};
}

Json study_class(const Json& asked) {
  open_class().reset();
  const Roster roster = read_roster(text_of(asked, "roster"));
  const SessionSheet sheet = read_session_sheet(text_of(asked, "sheet"));
  const Request request = with_options({}, options_of(asked));
  ClassOptions sorting;
  if (const auto measure = class_measure_of(text_of(asked, "sort"))) sorting.sort_by = *measure;
  Warnings warnings = roster.warnings;
  warnings.insert(warnings.end(), sheet.warnings.begin(), sheet.warnings.end());
  SessionOptions session;
  session.effort = request.effort;
  std::vector<ClassMember> members = class_members(
      sheet, roster, request, session, [](const SheetEntry& entry) { tell_progress("member", entry.code); });
  std::vector<ClassFinding> findings = check_class(roster, sheet, members);
  ClassComparison comparison = compare_class(std::move(members), sheet.performance, sorting);
  comparison.provenance = sheet.provenance;
  Json options = Json::parse(options_json(request));
  options["roster_sha256"] = roster.provenance.sha256;
  comparison.provenance.options = options.dump();
  comparison.warnings = warnings;
  comparison.findings = std::move(findings);
  Json failures = Json::array();
  for (const ClassMember& member : comparison.members)
    if (!member.failure.empty()) failures.push_back({{"code", member.entry.code}, {"message", member.failure}});
  Json reply = {{"members", comparison.members.size()}, {"failures", failures}, {"warnings", told(warnings)}};
  open_class() = std::move(comparison);
  return reply;
}

Json class_file(const Json& asked) {
  if (!open_class()) throw Error(ErrorCode::usage, "no class is open");
  const std::string what = text_of(asked, "what");
  const Language language = language_of(text_of(asked, "language")).value_or(Language::english);
  return {{"file", put_result(what, result_of(*open_class(), what, language))}};
}

}  // namespace pulsewright::page
