#include <algorithm>
#include <utility>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "class_words.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

struct Readiness {
  std::string code, file;
  std::int64_t line = 0;  ///< of the sheet; 0 for somebody who is not in it
  std::vector<std::string> missing;
};

Readiness of_member(const Roster& roster, const ClassMember& member, const Words& words) {
  Readiness row{member.entry.code, member.entry.file_name, member.entry.line, {}};
  if (roster.find(member.entry.code) == nullptr) row.missing.push_back(words("ready.not_in_roster"));
  if (!member.failure.empty()) row.missing.push_back(words("ready.unreadable", {{"why", member.failure}}));
  for (const NotPlaced why : member.objections)
    if (member.failure.empty() || why != NotPlaced::no_recording)
      row.missing.push_back(objection_sentence(member, why, words));
  return row;
}

/// The sheet's lines in their order, then who is absent from it.
std::vector<Readiness> readiness_of(const Roster& roster, const ClassComparison& comparison, const Words& words) {
  std::vector<Readiness> rows;
  for (const ClassMember& member : comparison.members) rows.push_back(of_member(roster, member, words));
  std::stable_sort(rows.begin(), rows.end(), [](const Readiness& a, const Readiness& b) { return a.line < b.line; });
  for (const Person& person : roster.people) {
    if (std::any_of(rows.begin(), rows.end(), [&](const Readiness& row) { return row.code == person.code; })) continue;
    Readiness row{person.code, "", 0, {words("ready.absent")}};
    if (!person.age_years && !person.measured_maximum) row.missing.push_back(words("lesson.not_placed.no_maximum"));
    if (!person.resting)
      row.missing.push_back(words("lesson.not_placed.no_resting"));
    else if (!plausible_resting(*person.resting, person.age_years))
      row.missing.push_back(words("lesson.not_placed.implausible_resting"));
    rows.push_back(std::move(row));
  }
  return rows;
}

Warnings all_warnings(const ClassComparison& comparison) {
  Warnings all = comparison.warnings;
  for (Warning& warning : finding_warnings(comparison.findings)) all.push_back(std::move(warning));
  return all;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  return text;
}

}  // namespace

std::string readiness_text(const Roster& roster, const ClassComparison& comparison, Language language) {
  const Words words(language);
  const std::vector<Readiness> rows = readiness_of(roster, comparison, words);
  const auto ready = std::count_if(rows.begin(), rows.end(), [](const Readiness& row) { return row.missing.empty(); });
  TextPage page;
  page.heading(words("ready.title", {{"ready", words.count(ready)},
                                     {"all", words.count(static_cast<std::int64_t>(rows.size()))},
                                     {"input", comparison.provenance.input}}));
  page.paragraph(common_sentence(comparison, words)).blank();
  for (const Readiness& row : rows)
    page.row(row.code, row.missing.empty() ? words("ready.ready") : joined(row.missing));
  page.blank();
  for (const ClassFinding& finding : comparison.findings) page.paragraph(finding_sentence(finding, words));
  for (const Warning& warning : comparison.warnings) page.paragraph(warning.message);
  return page.take();
}

std::string readiness_csv(const Roster& roster, const ClassComparison& comparison, const NumberStyle& style,
                          Language language) {
  CsvTable table({"code", "line", "file", "ready", "missing"}, style);
  for (const Readiness& row : readiness_of(roster, comparison, Words(language)))
    table.text(row.code)
        .count(row.line > 0 ? std::optional<std::int64_t>(row.line) : std::nullopt)
        .text(row.file)
        .text(row.missing.empty() ? "yes" : "no")
        .text(joined(row.missing))
        .end_row();
  return table.take();
}

std::string readiness_json(const Roster& roster, const ClassComparison& comparison, Language language) {
  Json body = Json::object();
  body["people"] = Json::array();
  for (const Readiness& row : readiness_of(roster, comparison, Words(language))) {
    Reasons reasons;
    Json entry = Json::object();
    entry["code"] = row.code;
    entry["line"] = nullptr;
    if (row.line > 0)
      entry["line"] = row.line;
    else
      reasons.explain("line", "the code stands on no line of the sheet");
    entry["file"] = row.file;
    entry["ready"] = row.missing.empty();
    entry["missing"] = row.missing;
    entry["reasons"] = reasons.json();
    body["people"].push_back(std::move(entry));
  }
  return json_document("class_readiness", body, Reasons{}, all_warnings(comparison), comparison.provenance);
}

bool class_is_ready(const Roster& roster, const ClassComparison& comparison) {
  const std::vector<Readiness> rows = readiness_of(roster, comparison, Words(Language::english));
  return std::all_of(rows.begin(), rows.end(), [](const Readiness& row) { return row.missing.empty(); });
}

}  // namespace pulsewright
