#include "8_report/page/traced_numbers.hpp"
#include "8_report/variability_measures.hpp"
#include "session_parts.hpp"

namespace pulsewright {
namespace {

/// Decimals that people are shown: a tenth of a ms and of a per cent, whole beats/min, whole counts.
constexpr int shown_decimals = 1;

TracedNumber traced(const VariabilityMeasure& measure, const Words& words) {
  const std::string key = std::string("variability.") + measure.key;
  if (std::string_view(measure.key) == "mean_hr_bpm") return traced_rate(BeatsPerMinute{*measure.value}, key);
  return traced_number(*measure.value, measure.decimals, measure.decimals > 0 ? shown_decimals : 0, key, words);
}

std::string unit_of(const VariabilityMeasure& measure, const Words& words) {
  return std::string_view(measure.unit) == "beats/min" ? words("unit.bpm") : measure.unit;
}

}  // namespace

Markup numbers_table(const Variability& variability, const Words& words) {
  Markup out;
  out.open("div",
           {{"class", "wide-table"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", words("section.numbers")}});
  out.open("table").element("caption", words("numbers.caption"));
  out.open("thead").open("tr");
  out.element("th", {{"scope", "col"}}, words("numbers.measure"));
  out.element("th", {{"scope", "col"}, {"class", "number"}}, words("numbers.value"));
  out.element("th", {{"scope", "col"}}, words("numbers.meaning"));
  out.close().close().open("tbody");
  bool any = false;
  for (const VariabilityMeasure& measure : principal_measures(variability)) {
    any = any || measure.value;
    out.open("tr").open("th", {{"scope", "row"}}).text(words(std::string("measure.") + measure.key));
    if (const std::string unit = unit_of(measure, words); !unit.empty())
      out.text(", ").element("span", {{"class", "unit"}}, unit);
    out.close();
    out.open("td", {{"class", "number"}});
    if (measure.value)
      out.add(traced_markup(traced(measure, words)));
    else
      out.text(words("numbers.none"));
    out.close().element("td", words(std::string("meaning.") + measure.key)).close();
  }
  out.close().close().close();
  if (any) out.element("p", {{"class", "quiet"}}, words("numbers.rising"));
  return out;
}

}  // namespace pulsewright
