
#include "pulsewright/json.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {

namespace {

Json as_json(const std::optional<Converter>& converter) {
  if (!converter) return nullptr;
  return {{"bits", converter->bits}, {"low", converter->low}, {"high", converter->high}};
}

Json as_json(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json as_json(const Disturbance& d) {
  return {{"white", d.white},
          {"muscle", d.muscle},
          {"mains", d.mains},
          {"baseline", d.baseline},
          {"mains_frequency_hz", d.mains_frequency.value()},
          {"snr_db", as_json(d.snr_db)}};
}

Json phases(const Scenario& scenario) {
  Json list = Json::array();
  for (const WorkPhase& phase : scenario.phases) {
    list.push_back({{"name", phase.name},
                    {"duration_s", phase.duration.value()},
                    {"workload", phase.workload},
                    {"target_bpm", phase.target ? Json(phase.target->value()) : Json(nullptr)},
                    {"cadence_hz", phase.cadence.value()},
                    {"movement", phase.movement}});
  }
  return list;
}

Json as_json(const Heart& heart) {
  return {{"resting_bpm", heart.resting.value()},
          {"maximum_bpm", heart.maximum.value()},
          {"rise_s", heart.rise.value()},
          {"fall_s", heart.fall.value()},
          {"drift_bpm", heart.drift.value()},
          {"drift_rise_s", heart.drift_rise.value()},
          {"resting_sdnn_ms", heart.resting_sdnn_ms},
          {"lf_hf", heart.lf_hf},
          {"lf_centre_hz", heart.lf_centre.value()},
          {"band_sd_hz", heart.band_sd.value()},
          {"resting_breaths_hz", heart.resting_breaths.value()},
          {"fastest_breaths_hz", heart.fastest_breaths.value()},
          {"lf_fading", heart.lf_fading},
          {"breathing_fading", heart.breathing_fading},
          {"early",
           {{"ventricular_per_minute", heart.early.ventricular_per_minute},
            {"supraventricular_per_minute", heart.early.supraventricular_per_minute},
            {"ventricular_every", heart.early.ventricular_every},
            {"coupling", heart.early.coupling}}}};
}

Json as_json(const std::optional<EcgSensor>& ecg) {
  if (!ecg) return nullptr;
  return {{"name", ecg->name},
          {"r_mv", ecg->r_mv},
          {"breathing_depth", ecg->breathing_depth},
          {"movement_mv_per_g", ecg->movement_mv_per_g},
          {"disturbance", as_json(ecg->disturbance)},
          {"converter", as_json(ecg->converter)}};
}

Json as_json(const std::optional<PulseSensor>& pulse) {
  if (!pulse) return nullptr;
  return {{"name", pulse->name},
          {"level", pulse->level},
          {"amplitude", pulse->amplitude},
          {"resting_delay_s", pulse->resting_delay.value()},
          {"shortest_delay_s", pulse->shortest_delay.value()},
          {"breathing_depth", pulse->breathing_depth},
          {"filling", pulse->filling},
          {"movement_per_g", pulse->movement_per_g},
          {"polarity", pulse->polarity == PulsePolarity::systole_up ? "systole_up" : "systole_down"},
          {"disturbance", as_json(pulse->disturbance)},
          {"converter", as_json(pulse->converter)}};
}

Json as_json(const std::optional<MotionSensor>& motion) {
  if (!motion) return nullptr;
  return {{"noise_g", motion->noise_g}, {"converter", as_json(motion->converter)}};
}

const char* word(DropOutForm form) { return form == DropOutForm::gap ? "gap" : "flat"; }

Json as_json(const Contact& contact) {
  Json planned = Json::array();
  for (const DropOut& lost : contact.planned) {
    planned.push_back({{"start_s", lost.span.start.value()},
                       {"end_s", lost.span.end.value()},
                       {"form", word(lost.form)},
                       {"kind", to_string(lost.kind)}});
  }
  return {{"planned", planned},
          {"losses_per_minute", contact.losses_per_minute},
          {"mean_loss_s", contact.mean_loss.value()},
          {"form", word(contact.form)},
          {"kind", to_string(contact.kind)}};
}

}  // namespace

std::string scenario_json(const Scenario& s) {
  const Json all{{"name", s.name},
                 {"person", s.person},
                 {"age_years", as_json(s.age_years)},
                 {"seed", s.seed},
                 {"rate_hz", s.rate.value()},
                 {"phases", phases(s)},
                 {"heart", as_json(s.heart)},
                 {"ecg", as_json(s.ecg)},
                 {"pulse", as_json(s.pulse)},
                 {"motion", as_json(s.motion)},
                 {"loosening",
                  {{"loose_s", s.loosening.loose.value()},
                   {"tight_s", s.loosening.tight.value()},
                   {"lag_s", s.loosening.lag.value()}}},
                 {"contact", as_json(s.contact)},
                 {"clock",
                  {{"error_ppm", s.clock.error_ppm},
                   {"jitter_s", s.clock.jitter.value()},
                   {"stamps_s", s.clock.stamps ? Json(s.clock.stamps->value()) : Json(nullptr)}}}};
  return all.dump();
}

}  // namespace pulsewright
