#include <array>
#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "effort_parts.hpp"

namespace pulsewright {
namespace {

constexpr double us_per_s = 1e6;

std::optional<double> seconds(const std::optional<std::int64_t>& us) {
  return us ? std::optional<double>(static_cast<double>(*us) / us_per_s) : std::nullopt;
}

std::optional<double> seconds_in(const Effort& effort, std::size_t category) {
  return effort.category_us ? seconds((*effort.category_us)[category]) : std::nullopt;
}

std::optional<double> value_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

std::string whole(const std::optional<BeatsPerMinute>& rate) {
  return rate ? with_unit(std::to_string(whole_beats(*rate)), "beats/min") : "none";
}

/// Bounds of the categories as people read them (Garber et al. 2011, MSSE 43:1334).
constexpr std::array reserve_bounds{"below 30 %", "30 to 39 %", "40 to 59 %", "60 to 89 %", "90 % and up"};
constexpr std::array maximum_bounds{"below 57 %", "57 to 63 %", "64 to 76 %", "77 to 95 %", "96 % and up"};
constexpr std::array category_names{"very light", "light", "moderate", "vigorous", "near-maximal"};

std::vector<std::string> time_row(const std::string& label, const std::string& bounds, std::int64_t us,
                                  std::int64_t whole_us) {
  const double share = whole_us > 0 ? 100.0 * static_cast<double>(us) / static_cast<double>(whole_us) : 0.0;
  return {label, bounds, format_clock(Seconds{static_cast<double>(us) / us_per_s}), format_number(share, 0) + " %",
          std::string(static_cast<std::size_t>(std::lround(share / 2.5)), '=')};
}

void add_categories(TextPage& page, const Effort& effort) {
  page.blank().heading("Time by intensity, in per cent of the " +
                       std::string(effort.categories_from_reserve ? "heart-rate reserve" : "maximum heart rate") +
                       " (Garber et al. 2011)");
  std::vector<std::vector<std::string>> rows;
  const auto& bounds = effort.categories_from_reserve ? reserve_bounds : maximum_bounds;
  for (std::size_t i = 0; i < category_names.size(); ++i)
    rows.push_back(time_row(category_names[i], bounds[i], (*effort.category_us)[i], effort.duration_us));
  rows.push_back(time_row("not measured", "", effort.unmeasured_us, effort.duration_us));
  rows.push_back({"whole recording", "", format_clock(Seconds{static_cast<double>(effort.duration_us) / us_per_s})});
  page.table(rows);
}

std::string percent(double fraction) { return format_number(100 * fraction, 0); }

/// The band's rule and, on each line, the scale it is on.
void add_target(TextPage& page, const Effort& effort) {
  const TargetZone& target = *effort.target;
  const std::string low = percent(target.low_fraction), high = percent(target.high_fraction);
  const std::string scale = target.from_reserve ? " % of reserve" : " % of maximum";
  page.blank().heading("Target " + std::to_string(whole_beats(target.low)) + " to " +
                       std::to_string(whole_beats(target.high)) + " beats/min (" + low + " to " + high + " % of the " +
                       (target.from_reserve ? "reserve, Karvonen et al. 1957)" : "maximum, no resting rate known)"));
  if (effort.below_target_us && effort.in_target_us && effort.above_target_us) {
    const std::string inside = target.own_ceiling ? low + scale + " to the own ceiling" : low + " to " + high + scale;
    const std::string over = target.own_ceiling ? "over the own ceiling" : "over " + high + scale;
    page.table({time_row("below", "under " + low + scale, *effort.below_target_us, effort.duration_us),
                time_row("in target", inside, *effort.in_target_us, effort.duration_us),
                time_row("above", over, *effort.above_target_us, effort.duration_us),
                time_row("not measured", "", effort.unmeasured_us, effort.duration_us)});
  }
  if (target.from_reserve) return;
  std::string note =
      "A share of the maximum is another scale than a share of the reserve: the same per cent is an easier effort. Do "
      "not "
      "compare this target, or the time in it, with one worked out from a resting rate.";
  const Intensity lowest = intensity_of_maximum(target.low_fraction);
  if (lowest < Intensity::moderate)
    note += " Its lower end lies in " + std::string(category_names[static_cast<std::size_t>(lowest)]) +
            " effort, which reaches to 63 % of the maximum, so that some light time is in target.";
  page.paragraph(note);
}

/// What changes how the whole page has to be read stands first on it.
void add_first_notes(TextPage& page, const Effort& effort) {
  for (const Warning& warning : effort.warnings)
    if (warning.code == "resting_from_session" || warning.code == "by_share_of_maximum")
      page.paragraph("Note: " + warning.message);
}

std::string resting_note(const RestingRate& resting) {
  if (resting.source == RestingSource::given) return "as given";
  std::string note = "lowest minute of this recording";
  if (resting.where) note += ", " + format_clock(resting.where->start) + " to " + format_clock(resting.where->end);
  return note + "; measured at true rest it may be lower";
}

}  // namespace

void put_effort_cells(CsvTable& table, const Effort& result) {
  table.text(result.person.code).number(seconds(result.duration_us), 6).number(seconds(result.unmeasured_us), 6);
  for (std::size_t i = 0; i < intensity_count; ++i) table.number(seconds_in(result, i), 6);
  table.number(seconds(result.below_target_us), 6).number(seconds(result.in_target_us), 6);
  table.number(seconds(result.above_target_us), 6).number(seconds(result.above_ceiling_us), 6);
  table.number(result.target ? std::optional<double>(result.target->low.value()) : std::nullopt, 2);
  table.number(result.target ? std::optional<double>(result.target->high.value()) : std::nullopt, 2);
  table.number(value_of(result.mean_rate), 2).number(value_of(result.peak_rate), 2);
  table.number(result.mean_reserve_percent, 2);
  table.number(result.maximum ? std::optional<double>(result.maximum->rate.value()) : std::nullopt, 2);
  table.text(result.maximum ? to_string(result.maximum->source) : "");
  table.number(result.resting ? std::optional<double>(result.resting->rate.value()) : std::nullopt, 2);
  table.text(result.resting ? to_string(result.resting->source) : "");
  table.text(!result.target ? "" : result.target->from_reserve ? "reserve" : "maximum");
}

std::string effort_csv(const Effort& result, const NumberStyle& style) {
  CsvTable table({"code",           "duration_s",           "unmeasured_s",   "very_light_s",    "light_s",
                  "moderate_s",     "vigorous_s",           "near_maximal_s", "below_target_s",  "in_target_s",
                  "above_target_s", "above_ceiling_s",      "target_low_bpm", "target_high_bpm", "mean_hr_bpm",
                  "peak_hr_bpm",    "mean_reserve_percent", "maximum_hr_bpm", "maximum_source",  "resting_hr_bpm",
                  "resting_source", "target_method"},
                 style);
  put_effort_cells(table, result);
  table.end_row();
  return table.take();
}

Reasons effort_reasons(const Effort& result) {
  std::vector<Reason> keyed;
  for (const Reason& reason : result.reasons) {
    if (reason.measure == "category_s")
      for (int i = 0; i < intensity_count; ++i)
        keyed.push_back({std::string(to_string(static_cast<Intensity>(i))) + "_s", reason.reason});
    else
      keyed.push_back(reason);
  }
  return Reasons(keyed);
}

Json effort_body(const Effort& result, Reasons& reasons) {
  static constexpr const char* no_person = "needs the person's age or measured maximum heart rate";
  static constexpr const char* no_resting =
      "no resting rate was given, and no minute of the recording could stand in for one";
  static constexpr const char* no_rate = "no stretch of the recording has a heart rate";
  Json body = Json::object();
  body["person"] = person_body(result.person, reasons);
  body["duration_s"] = json_number(seconds(result.duration_us), 6);
  body["unmeasured_s"] = json_number(seconds(result.unmeasured_us), 6);
  for (std::size_t i = 0; i < intensity_count; ++i)
    put(body, reasons, std::string(to_string(static_cast<Intensity>(i))) + "_s", seconds_in(result, i), 6, no_person);
  put(body, reasons, "below_target_s", seconds(result.below_target_us), 6, no_person);
  put(body, reasons, "in_target_s", seconds(result.in_target_us), 6, no_person);
  put(body, reasons, "above_target_s", seconds(result.above_target_us), 6, no_person);
  put(body, reasons, "above_ceiling_s", seconds(result.above_ceiling_us), 6, "no ceiling of the person's own was set");
  body["categories_by"] = result.categories_from_reserve ? "reserve" : "maximum";
  put(body, reasons, "mean_hr_bpm", value_of(result.mean_rate), 2, no_rate);
  put(body, reasons, "peak_hr_bpm", value_of(result.peak_rate), 2, no_rate);
  put(body, reasons, "mean_reserve_percent", result.mean_reserve_percent, 2,
      "needs a maximum and a resting heart rate");
  put(body, reasons, "maximum_hr_bpm",
      result.maximum ? std::optional<double>(result.maximum->rate.value()) : std::nullopt, 2, no_person);
  put_word(body, reasons, "maximum_source", result.maximum ? to_string(result.maximum->source) : nullptr, no_person);
  put(body, reasons, "resting_hr_bpm",
      result.resting ? std::optional<double>(result.resting->rate.value()) : std::nullopt, 2, no_resting);
  put_word(body, reasons, "resting_source", result.resting ? to_string(result.resting->source) : nullptr, no_resting);
  body["target"] = nullptr;
  if (result.target)
    body["target"] = target_body(*result.target, reasons);
  else
    reasons.explain("target", no_person);
  return body;
}

std::string effort_json(const Effort& result) {
  Reasons reasons = effort_reasons(result);
  const Json body = effort_body(result, reasons);
  return json_document("effort", body, reasons, result.warnings, result.provenance);
}

void add_effort_page(TextPage& page, const Effort& result) {
  page.heading("Effort" + (result.person.code.empty() ? "" : " of " + result.person.code) + " in " +
               result.provenance.input + ", " +
               format_clock(Seconds{static_cast<double>(result.duration_us) / us_per_s}) + " long");
  add_first_notes(page, result);
  page.row("mean heart rate", whole(result.mean_rate), "over the measured time");
  page.row("peak heart rate", whole(result.peak_rate), "highest window");
  if (result.resting) page.row("resting", whole(result.resting->rate), resting_note(*result.resting));
  if (result.maximum) page.row("maximum", whole(result.maximum->rate), describe(result.maximum->source));
  if (result.mean_reserve_percent)
    page.row("mean effort", format_number(result.mean_reserve_percent, 0) + " % of reserve",
             "(rate - resting) / (maximum - resting)");
  if (result.person.own_ceiling)
    page.row("own ceiling", whole(result.person.own_ceiling),
             "set by a professional; above it for " +
                 format_clock(Seconds{static_cast<double>(result.above_ceiling_us.value_or(0)) / us_per_s}));
  if (result.category_us) add_categories(page, result);
  if (result.target) add_target(page, result);
}

std::string effort_text(const Effort& result) {
  TextPage page;
  add_effort_page(page, result);
  add_reasons(page, result.reasons);
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
