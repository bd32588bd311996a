#include <fmt/format.h>

#include "8_report/text/csv_table.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

std::string whole(BeatsPerMinute rate) { return std::to_string(whole_beats(rate)); }

/// `141 to 157`: where an end lies with the maximum one SD lower and higher.
std::string shifted(BeatsPerMinute end, double shift) {
  return whole(end - BeatsPerMinute{shift}) + " to " + whole(end + BeatsPerMinute{shift});
}

std::optional<double> age_of(const Person& person) { return person.age_years; }

}  // namespace

TargetTable target_table(const Roster& roster, const EffortOptions& options) {
  TargetTable table;
  table.warnings = roster.warnings;
  table.provenance = roster.provenance;
  for (const Person& person : roster.people) {
    PersonTarget row{person, std::nullopt, {}};
    try {
      const std::optional<MaximumRate> maximum = maximum_rate(person, options.equation);
      if (maximum) {
        std::optional<RestingRate> resting;
        if (person.resting) resting = RestingRate{*person.resting, RestingSource::given, std::nullopt};
        row.target = target_zone(*maximum, resting, options.low_fraction, options.high_fraction);
        if (person.own_ceiling) row.target = with_ceiling(*row.target, *person.own_ceiling);
        if (!row.target) row.reason = "the own ceiling lies below the band: it holds, and no target by formula applies";
        for (Warning warning : maximum_warnings(person, *maximum)) {
          if (warning.code == "estimated_maximum") continue;  // told once, below the table
          warning.message = person.code + ": " + warning.message;
          table.warnings.push_back(std::move(warning));
        }
      } else {
        row.reason = "neither an age nor a measured maximum is known";
      }
    } catch (const Error& error) {
      if (error.code() != ErrorCode::usage) throw;
      row.reason = error.what();
    }
    table.people.push_back(std::move(row));
  }
  return table;
}

std::string target_table_csv(const TargetTable& table, const NumberStyle& style) {
  CsvTable csv({"code", "age_years", "low_bpm", "high_bpm", "low_percent", "high_percent", "method", "maximum_hr_bpm",
                "maximum_sd_bpm", "maximum_source", "resting_hr_bpm", "ceiling_bpm", "low_shift_bpm", "high_shift_bpm",
                "reason"},
               style);
  for (const PersonTarget& row : table.people) {
    csv.text(row.person.code).number(age_of(row.person), 2);
    if (row.target) {
      const TargetZone& target = *row.target;
      const auto shift = target_shift(target);
      csv.number(target.low.value(), 2).number(target.high.value(), 2);
      csv.number(100.0 * target.low_fraction, 1).number(100.0 * target.high_fraction, 1);
      csv.text(target.from_reserve ? "reserve" : "maximum").number(target.maximum.rate.value(), 2);
      csv.number(target.maximum.sd_bpm, 2).text(to_string(target.maximum.source));
      csv.number(number_of(row.person.resting), 2).number(number_of(row.person.own_ceiling), 2);
      csv.number(shift ? std::optional<double>(shift->low_bpm) : std::nullopt, 2);
      csv.number(shift ? std::optional<double>(shift->high_bpm) : std::nullopt, 2);
    } else {
      for (int i = 0; i < 8; ++i) csv.text("");
      csv.number(number_of(row.person.resting), 2).number(number_of(row.person.own_ceiling), 2).text("").text("");
    }
    csv.text(row.reason).end_row();
  }
  return csv.take();
}

std::string target_table_json(const TargetTable& table) {
  Json body = Json::object();
  body["people"] = Json::array();
  for (const PersonTarget& row : table.people) {
    Reasons reasons;
    Json entry = Json::object();
    entry["code"] = row.person.code;
    entry["person"] = person_body(row.person, reasons);
    entry["target"] = nullptr;
    if (row.target)
      entry["target"] = target_body(*row.target, reasons);
    else
      reasons.explain("target", row.reason);
    const auto shift = row.target ? target_shift(*row.target) : std::nullopt;
    static constexpr const char* no_shift = "there is no target, or the maximum was measured";
    put(entry, reasons, "low_shift_bpm", shift ? std::optional<double>(shift->low_bpm) : std::nullopt, 2, no_shift);
    put(entry, reasons, "high_shift_bpm", shift ? std::optional<double>(shift->high_bpm) : std::nullopt, 2, no_shift);
    entry["reasons"] = reasons.json();
    body["people"].push_back(std::move(entry));
  }
  return json_document("target_table", body, Reasons{}, table.warnings, table.provenance);
}

std::string target_table_text(const TargetTable& table) {
  TextPage page;
  page.heading("Targets of " + counted(static_cast<long long>(table.people.size()), "person", "people") + " in " +
               table.provenance.input + ", in beats/min")
      .blank();
  std::vector<std::vector<std::string>> rows{
      {"code", "age", "resting", "maximum", "target", "lower end +-1 SD", "upper end +-1 SD", "in 15 s", "of the"}};
  bool estimated = false, vigorous = false, by_maximum = false;
  for (const PersonTarget& row : table.people) {
    const std::string age = row.person.age_years ? fmt::format("{:g}", *row.person.age_years) : "-";
    const std::string resting = row.person.resting ? whole(*row.person.resting) : "-";
    if (!row.target) {
      rows.push_back({row.person.code, age, resting, "-", "none"});
      continue;
    }
    const TargetZone& target = *row.target;
    const auto shift = target_shift(target);
    estimated = estimated || shift;
    by_maximum = by_maximum || !target.from_reserve;
    vigorous = vigorous || (target.from_reserve && intensity_of_reserve(target.low_fraction) == Intensity::vigorous &&
                            target.high_fraction <= reserve_bounds[3]);
    // 15 s x 4 (common practice), whole counts inside the band
    const long low_count = (whole_beats(target.low) + 3) / 4, high_count = whole_beats(target.high) / 4;
    rows.push_back({row.person.code, age, resting, whole(target.maximum.rate) + (shift ? "" : " measured"),
                    whole(target.low) + " to " + whole(target.high) + (target.own_ceiling ? "*" : ""),
                    shift ? shifted(target.low, shift->low_bpm) : "",
                    shift && !target.own_ceiling ? shifted(target.high, shift->high_bpm) : "",
                    std::to_string(low_count) + " to " + std::to_string(high_count),
                    target.from_reserve ? "reserve" : "maximum"});
  }
  page.table(rows).blank();
  for (const PersonTarget& row : table.people)
    if (!row.target) page.paragraph(row.person.code + ": no target, because " + row.reason + ".");
  for (const PersonTarget& row : table.people)
    if (row.target && row.target->own_ceiling)
      page.paragraph("* " + row.person.code + ": the upper end is the own ceiling that a professional set.");
  if (estimated)
    page.paragraph(
        "Most maxima here are estimates by age. A person's own lies within one SD of it for two people in three, so "
        "their band lies anywhere "
        "between the ends shown: when breath and effort say something else, believe them.");
  if (vigorous)
    page.paragraph(
        "The whole band lies in vigorous effort (60 to 89 % of reserve, Garber et al. 2011); moderate effort, 40 to 59 "
        "%, does good as well.");
  if (by_maximum)
    page.paragraph(
        "Without a resting rate the band is a share of the maximum, another scale: do not compare it with the others. "
        "Measure the resting rate.");
  for (const Warning& warning : table.warnings) page.paragraph("Note: " + warning.message);
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
