#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

std::string whole(BeatsPerMinute rate) { return std::to_string(whole_beats(rate)); }

std::string percent(double fraction) { return format_number(100 * fraction, 0); }

/// Beats in a count of `seconds` that lie inside the band: counts are whole, so the band shrinks to them.
std::string count_by_hand(const TargetZone& target, int seconds) {
  const double factor = 60.0 / seconds;  // common practice: 10 s x 6, 15 s x 4
  const auto low = static_cast<long>(std::ceil(static_cast<double>(whole_beats(target.low)) / factor));
  const auto high = static_cast<long>(std::floor(static_cast<double>(whole_beats(target.high)) / factor));
  return std::to_string(low) + " to " + std::to_string(high) + " beats";
}

std::string rule_of(const TargetZone& target) {
  const std::string share = percent(target.low_fraction) + " to " + percent(target.high_fraction) + " %";
  if (target.from_reserve)
    return "resting + " + share + " of (maximum - resting), the reserve method (Karvonen et al. 1957)";
  return share + " of the maximum, because no resting rate is known";
}

}  // namespace

std::string target_csv(const TargetZone& target, const NumberStyle& style) {
  CsvTable table({"low_bpm", "high_bpm", "low_percent", "high_percent", "method", "maximum_hr_bpm", "maximum_source",
                  "resting_hr_bpm", "resting_source"},
                 style);
  table.number(target.low.value(), 2).number(target.high.value(), 2);
  table.number(100 * target.low_fraction, 1).number(100 * target.high_fraction, 1);
  table.text(target.from_reserve ? "reserve" : "maximum");
  table.number(target.maximum.rate.value(), 2).text(to_string(target.maximum.source));
  if (target.resting)
    table.number(target.resting->rate.value(), 2).text(to_string(target.resting->source));
  else
    table.text("").text("");
  table.end_row();
  return table.take();
}

Json target_body(const TargetZone& target, Reasons& reasons) {
  Json body = Json::object();
  body["low_bpm"] = json_number(target.low.value(), 2);
  body["high_bpm"] = json_number(target.high.value(), 2);
  body["low_whole_bpm"] = whole_beats(target.low);
  body["high_whole_bpm"] = whole_beats(target.high);
  body["low_percent"] = json_number(100 * target.low_fraction, 1);
  body["high_percent"] = json_number(100 * target.high_fraction, 1);
  put(body, reasons, "lowered_to_ceiling_bpm",
      target.own_ceiling ? std::optional<double>(target.own_ceiling->value()) : std::nullopt, 2,
      "no ceiling of the person's own lowered the band");
  body["method"] = target.from_reserve ? "reserve" : "maximum";
  body["maximum_hr_bpm"] = json_number(target.maximum.rate.value(), 2);
  put(body, reasons, "maximum_sd_bpm", target.maximum.sd_bpm, 1,
      "the maximum was measured, or its formula states no spread");
  body["maximum_source"] = to_string(target.maximum.source);
  put(body, reasons, "resting_hr_bpm",
      target.resting ? std::optional<double>(target.resting->rate.value()) : std::nullopt, 2,
      "no resting rate is known");
  put_word(body, reasons, "resting_source", target.resting ? to_string(target.resting->source) : nullptr,
           "no resting rate is known");
  return body;
}

Json person_body(const Person& person, Reasons& reasons) {
  const auto rate = [](const std::optional<BeatsPerMinute>& r) {
    return r ? std::optional<double>(r->value()) : std::nullopt;
  };
  Json body = Json::object();
  body["code"] = person.code;
  put(body, reasons, "age_years", person.age_years, 2, "not stated");
  body["sex"] = person.sex == Sex::female ? "female" : person.sex == Sex::male ? "male" : "unstated";
  put(body, reasons, "given_resting_hr_bpm", rate(person.resting), 2, "not stated");
  put(body, reasons, "measured_maximum_hr_bpm", rate(person.measured_maximum), 2, "not stated");
  put(body, reasons, "own_ceiling_hr_bpm", rate(person.own_ceiling), 2, "none was set");
  return body;
}

std::string target_json(const TargetZone& target, const Person& person, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["person"] = person_body(person, reasons);
  const Json band = target_body(target, reasons);
  for (const auto& [key, value] : band.items()) body[key] = value;
  return json_document("target", body, reasons, maximum_warnings(person, target.maximum), provenance);
}

std::string target_text(const TargetZone& target, const Person& person) {
  TextPage page;
  page.heading("Target heart rate" + (person.code.empty() ? "" : " of " + person.code) + ": " + whole(target.low) +
               " to " + whole(target.high) + " beats/min, by share of the " +
               (target.from_reserve ? "reserve" : "maximum"));
  page.row("rule", rule_of(target));
  if (person.age_years) page.row("age", format_number(person.age_years, 0) + " years");
  page.row("maximum", whole(target.maximum.rate) + " beats/min, " + describe(target.maximum.source));
  if (target.resting)
    page.row("resting",
             whole(target.resting->rate) + " beats/min, " +
                 (target.resting->source == RestingSource::given ? "as given" : "lowest minute of the recording"));
  if (target.from_reserve && target.resting)
    page.row("reserve", whole(target.maximum.rate - target.resting->rate) + " beats/min, maximum - resting");
  page.row("counted by hand",
           count_by_hand(target, 10) + " in 10 s (x 6), " + count_by_hand(target, 15) + " in 15 s (x 4)");
  if (person.own_ceiling)
    page.row("own ceiling", whole(*person.own_ceiling) + " beats/min, set by a professional" +
                                (target.own_ceiling ? ": the band ends there" : ", above the band"));
  if (!target.from_reserve)
    page.blank().paragraph(
        "Note: the same per cent of the reserve, which a resting rate allows, is a harder effort; do not compare the "
        "two.");
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
