#include "8_report/all_warnings.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

/// Adds a stage's body with its own reasons, so that a reader of one part needs no other.
void add_part(Json& document, const std::string& name, Json body, const Reasons& reasons) {
  body["reasons"] = reasons.json();
  document[name] = std::move(body);
}

}  // namespace

Warnings all_warnings(const Analysis& result) {
  Warnings all;
  for (const Warnings* stage : {&result.beats.warnings, &result.intervals.warnings, &result.rates.warnings,
                                &result.variability.warnings, &result.effort.warnings})
    for (const Warning& warning : *stage) {
      bool known = false;
      for (const Warning& earlier : all)
        known = known || (earlier.code == warning.code && earlier.message == warning.message);
      if (!known) all.push_back(warning);
    }
  return all;
}

std::string analysis_json(const Analysis& result) {
  Json body = Json::object();
  Reasons beats, intervals, rate, variability(result.variability.reasons), effort = effort_reasons(result.effort);
  add_part(body, "beats", beats_body(result.beats, {}, beats), beats);
  add_part(body, "intervals", intervals_body(result.intervals, intervals), intervals);
  add_part(body, "rate", rate_body(result.rates, rate), rate);
  add_part(body, "variability", variability_body(result.variability, variability), variability);
  add_part(body, "effort", effort_body(result.effort, effort), effort);
  return json_document("analysis", body, Reasons{}, all_warnings(result), result.beats.provenance);
}

std::string analysis_text(const Analysis& result) {
  // What the person asked first; what it rests on after.
  return effort_text(result.effort) + "\n" + rate_text(result.rates) + "\n" + variability_text(result.variability) +
         "\n" + intervals_text(result.intervals) + "\n" + beats_text(result.beats);
}

}  // namespace pulsewright
