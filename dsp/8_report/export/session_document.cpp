#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

/// A figure with its interval, under KEY_UNIT, KEY_low_UNIT and KEY_high_UNIT.
void put_ranged(Json& body, Reasons& reasons, const std::string& key, const std::string& unit,
                const std::optional<Ranged>& value, int decimals, const std::string& otherwise) {
  const auto part = [&](const std::string& name, std::optional<double> number) {
    put(body, reasons, unit.empty() ? name : name + "_" + unit, number, decimals, otherwise);
  };
  part(key, value ? std::optional<double>(value->value) : std::nullopt);
  part(key + "_low", value ? std::optional<double>(value->low) : std::nullopt);
  part(key + "_high", value ? std::optional<double>(value->high) : std::nullopt);
}

Json span_body(const Span& span) {
  return {{"start_s", json_number(span.start.value(), 6)}, {"end_s", json_number(span.end.value(), 6)}};
}

void put_span(Json& body, Reasons& reasons, const char* key, const std::optional<Span>& span) {
  body[key] = nullptr;
  if (span)
    body[key] = span_body(*span);
  else
    reasons.explain(key, "there is no such stretch");
}

Json phases_body(const SessionEffort& session, Reasons& reasons) {
  Json list = Json::array();
  for (const Phase& phase : session.phases) {
    Json entry = Json::object();
    entry["kind"] = to_string(phase.kind);
    entry["name"] = phase.name;
    entry["marked"] = phase.marked;
    entry["start_s"] = json_number(phase.span().start.value(), 6);
    entry["end_s"] = json_number(phase.span().end.value(), 6);
    entry["unmeasured_s"] = json_number(seconds_of(phase.unmeasured_us), 6);
    static constexpr const char* unmeasured = "nothing of that phase is measured";
    put(entry, reasons, "mean_bpm", number_of(phase.mean_rate), 2, unmeasured);
    put(entry, reasons, "peak_bpm", number_of(phase.peak_rate), 2, unmeasured);
    put(entry, reasons, "settling_bpm", number_of(phase.settling_rate), 2, "hardly anything of that phase is measured");
    entry["exertion"] = nullptr;
    if (phase.exertion)
      entry["exertion"] = *phase.exertion;
    else
      reasons.explain("exertion", "none was noted");
    list.push_back(std::move(entry));
  }
  return list;
}

Json kinetics_body(const SessionEffort& session, Reasons& reasons) {
  Json list = Json::array();
  for (const PhaseKinetics& kinetics : session.kinetics) {
    Json entry = Json::object();
    entry["phase_number"] = kinetics.phase + 1;
    entry["direction"] = kinetics.rising ? "rising" : "falling";
    const auto& fit = kinetics.fit;
    const auto part = [&](const char* key, std::optional<double> value, int decimals) {
      put(entry, reasons, key, value, decimals, kinetics.reason);
    };
    part("tau_s", fit ? std::optional<double>(fit->tau.value()) : std::nullopt, 2);
    part("tau_low_s", fit ? std::optional<double>(fit->low.value()) : std::nullopt, 2);
    part("tau_high_s", fit ? std::optional<double>(fit->high.value()) : std::nullopt, 2);
    part("change_bpm", fit ? std::optional<double>(fit->change.value()) : std::nullopt, 2);
    part("explained_percent", fit ? std::optional<double>(100.0 * fit->explained) : std::nullopt, 1);
    list.push_back(std::move(entry));
  }
  return list;
}

Json recovery_body(const Recovery& recovery) {
  Reasons reasons(recovery.reasons);
  Json body = Json::object();
  body["stop_s"] = json_number(recovery.stop.value(), 3);
  static constexpr const char* unmeasured = "not measured";
  put(body, reasons, "at_stop_bpm", number_of(recovery.at_stop), 2, unmeasured);
  put(body, reasons, "after_one_minute_bpm", number_of(recovery.after_one_minute), 2, unmeasured);
  put(body, reasons, "after_two_minutes_bpm", number_of(recovery.after_two_minutes), 2, unmeasured);
  put(body, reasons, "first_minute_fall_bpm", number_of(recovery.first_minute_fall), 2, unmeasured);
  put(body, reasons, "second_minute_fall_bpm", number_of(recovery.second_minute_fall), 2, unmeasured);
  body["stood_still"] = recovery.stood_still;
  body["reasons"] = reasons.json();
  return body;
}

Json exertion_body(const SessionEffort& session, Reasons& reasons) {
  Json list = Json::array();
  for (const ExertionComparison& comparison : session.exertion) {
    Json entry = Json::object();
    entry["phase_number"] = nullptr;
    if (comparison.phase)
      entry["phase_number"] = *comparison.phase + 1;
    else
      reasons.explain("phase_number", "of the whole session");
    entry["exertion"] = comparison.exertion;
    entry["said"] = to_string(comparison.said);
    entry["measured"] = to_string(comparison.measured);
    entry["measured_low"] = to_string(comparison.measured_low);
    entry["measured_high"] = to_string(comparison.measured_high);
    entry["far_apart"] = comparison.far_apart;
    list.push_back(std::move(entry));
  }
  return list;
}

Json scheme_body(const SessionEffort& session) {
  const IntensityScheme& scheme = *session.options.scheme;
  Json categories = Json::array();
  for (std::size_t i = 0; i < scheme.categories.size(); ++i)
    categories.push_back({{"category", scheme.categories[i].name},
                          {"from_percent", json_number(100.0 * scheme.categories[i].from_fraction, 2)},
                          {"time_s", json_number(seconds_of(session.scheme_us[i]), 6)}});
  Json body = Json::object();
  body["scheme"] = scheme.name;
  body["of"] = scheme.from_reserve ? "reserve" : "maximum";
  body["categories"] = std::move(categories);
  body["below_first_s"] = json_number(seconds_of(session.scheme_us.back()), 6);
  return body;
}

Json course_body(const SessionEffort& session, Reasons& reasons) {
  Json rates = Json::array();
  for (const EffortCell& cell : session.cells) {
    rates.push_back(json_number(number_of(cell.rate), 2));
    if (!cell.rate) reasons.explain("cell_bpm", "that cell is not measured");
  }
  Json body = Json::object();
  body["cell_s"] = json_number(session.cells.empty() ? 0.0 : seconds_of(session.cells.front().length_us), 6);
  body["cell_bpm"] = std::move(rates);
  return body;
}

}  // namespace

Json session_body(const SessionEffort& session, Reasons& reasons) {
  for (const Reason& reason : session.reasons) reasons.give(reason.measure, reason.reason);
  Json body = Json::object();
  body["activity"] = session.options.activity;
  static constexpr const char* no_range = "needs a maximum, a resting heart rate and a measured rate";
  put_ranged(body, reasons, "mean_reserve", "percent", session.mean_reserve_percent, 2, no_range);
  put_ranged(body, reasons, "in_target", "s", session.in_target_s, 6, "there is no target, or no measured rate");
  put_ranged(body, reasons, "moderate_or_harder", "s", session.moderate_or_harder_s, 6, no_range);
  put(body, reasons, "moderate_or_harder_percent", session.moderate_or_harder_percent, 2, no_range);
  put_span(body, reasons, "longest_moderate", session.longest_moderate);
  put_span(body, reasons, "longest_in_target", session.longest_in_target);
  body["peak"] = nullptr;
  if (session.peak) {
    Json peak = span_body(session.peak->where);
    peak["mean_bpm"] = json_number(session.peak->rate.value(), 2);
    put(peak, reasons, "reserve_percent", session.peak->reserve_percent, 2, "needs a maximum and a resting heart rate");
    body["peak"] = std::move(peak);
  } else {
    reasons.explain("peak", "no stretch of that length is measured throughout");
  }
  body["peak_window_s"] = json_number(session.options.peak_window.value(), 3);
  put_ranged(body, reasons, "impulse_men", "", session.impulse_men, 2, no_range);
  put_ranged(body, reasons, "impulse_women", "", session.impulse_women, 2, no_range);
  const Load load = session.load.value_or(Load{});
  put(body, reasons, "mean_impulse_men", load.mean_impulse_men, 2, no_range);
  put(body, reasons, "mean_impulse_women", load.mean_impulse_women, 2, no_range);
  put_ranged(body, reasons, "weighted", "min", session.weighted_minutes, 2, no_range);
  body["phases"] = phases_body(session, reasons);
  body["kinetics"] = kinetics_body(session, reasons);
  body["recovery"] = nullptr;
  if (session.recovery)
    body["recovery"] = recovery_body(*session.recovery);
  else
    reasons.explain("recovery", "no bout of work ends inside the recording");
  body["drift"] = nullptr;
  if (session.drift) {
    body["drift"] = span_body(session.drift->where);
    body["drift"]["phase_number"] = session.drift->phase + 1;
    body["drift"]["bpm_per_10_min"] = json_number(session.drift->bpm_per_10_min, 2);
    body["drift"]["low_bpm_per_10_min"] = json_number(session.drift->low, 2);
    body["drift"]["high_bpm_per_10_min"] = json_number(session.drift->high, 2);
  } else {
    reasons.explain("drift", "no bout of work lasts six minutes");
  }
  const Easing& easing = session.easing;
  body["easing"] = {{"warm_up_s", json_number(easing.warm_up.value(), 6)},
                    {"warm_up_length", to_string(easing.warm_up_length)},
                    {"cool_down_s", json_number(easing.cool_down.value(), 6)},
                    {"cool_down_length", to_string(easing.cool_down_length)},
                    {"about_equal", easing.about_equal},
                    {"abrupt_stop", easing.abrupt_stop},
                    {"end_seen", easing.end_seen}};
  body["exertion_compared"] = exertion_body(session, reasons);
  body["scheme"] = nullptr;
  if (!session.scheme_us.empty())
    body["scheme"] = scheme_body(session);
  else
    reasons.explain("scheme", "none was asked for");
  body["prompts"] = Json::array();
  for (const Warning& prompt : session.prompts)
    body["prompts"].push_back({{"code", prompt.code}, {"message", prompt.message}});
  body["course"] = course_body(session, reasons);
  return body;
}

std::string session_json(const SessionEffort& session) {
  Reasons reasons = effort_reasons(session.effort);
  Json body = effort_body(session.effort, reasons);
  body["session"] = session_body(session, reasons);
  return json_document("effort", body, reasons, session.effort.warnings, session.effort.provenance);
}

}  // namespace pulsewright
