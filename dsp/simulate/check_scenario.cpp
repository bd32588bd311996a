#include "check_scenario.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "rate_course.hpp"

namespace pulsewright::simulation {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

[[noreturn]] void refuse(const std::string& what, double value, const std::string& rule) {
  throw Error(ErrorCode::usage, fmt::format("scenario: {} is {}, but must be {}", what, value, rule));
}

void positive(const std::string& what, double value) {
  if (!(value > 0.0 && value < infinity)) refuse(what, value, "positive");
}

void not_negative(const std::string& what, double value) {
  if (!(value >= 0.0 && value < infinity)) refuse(what, value, "0 or more");
}

void within(const std::string& what, double value, double low, double high) {
  if (!(value >= low && value <= high)) refuse(what, value, fmt::format("from {} to {}", low, high));
}

void check_phases(const Scenario& scenario) {
  if (scenario.phases.empty()) throw Error(ErrorCode::usage, "scenario: there are no phases");
  for (const WorkPhase& phase : scenario.phases) {
    const std::string of = fmt::format(" of phase '{}'", phase.name);
    if (!(phase.duration.value() > 0.0 && phase.duration.value() < infinity)) {
      refuse("duration" + of, phase.duration.value(), "positive seconds");
    }
    within("workload" + of, phase.workload, 0.0, 1.0);
    if (phase.target) {
      within("target rate" + of, phase.target->value(), lowest_rate_bpm, scenario.heart.maximum.value());
    }
    within("cadence" + of, phase.cadence.value(), 0.0, 10.0);
    within("movement" + of, phase.movement, 0.0, 100.0);
  }
}

void check_heart(const Heart& heart) {
  within("resting rate", heart.resting.value(), lowest_rate_bpm, 200.0);
  if (!(heart.maximum > heart.resting)) refuse("maximum rate", heart.maximum.value(), "above the resting rate");
  within("maximum rate", heart.maximum.value(), lowest_rate_bpm, 300.0);
  positive("time constant of the rise", heart.rise.value());
  positive("time constant of the fall", heart.fall.value());
  positive("time constant of the drift", heart.drift_rise.value());
  within("drift", heart.drift.value(), 0.0, 100.0);
  within("resting SDNN in ms", heart.resting_sdnn_ms, 0.0, 0.15 * 60000.0 / heart.resting.value());
  within("LF/HF", heart.lf_hf, 0.0, 1000.0);
  within("LF centre in Hz", heart.lf_centre.value(), 0.01, 0.2);
  within("spectral SD in Hz", heart.band_sd.value(), 0.0, 0.03);
  within("resting breaths in Hz", heart.resting_breaths.value(), 0.05, 1.0);
  within("fastest breaths in Hz", heart.fastest_breaths.value(), heart.resting_breaths.value(), 1.5);
  not_negative("fading of LF", heart.lf_fading);
  not_negative("fading of breathing", heart.breathing_fading);
  not_negative("ventricular beats a minute", heart.early.ventricular_per_minute);
  not_negative("supraventricular beats a minute", heart.early.supraventricular_per_minute);
  within("coupling of early beats", heart.early.coupling, 0.4, 0.9);
  if (heart.early.ventricular_every < 0 || heart.early.ventricular_every == 1) {
    refuse("ventricular_every", heart.early.ventricular_every, "0 (off) or 2 and more");
  }
}

void check_disturbance(const std::string& sensor, const Disturbance& d) {
  not_negative("white noise of the " + sensor, d.white);
  not_negative("muscle noise of the " + sensor, d.muscle);
  not_negative("mains hum of the " + sensor, d.mains);
  not_negative("baseline wander of the " + sensor, d.baseline);
  positive("mains frequency in Hz", d.mains_frequency.value());
  if (d.snr_db) within("signal-to-noise ratio of the " + sensor + " in dB", *d.snr_db, -100.0, 200.0);
}

void check_converter(const std::string& sensor, const std::optional<Converter>& converter) {
  if (!converter) return;
  within("bits of the " + sensor + "'s converter", converter->bits, 1, 24);
  if (!(std::isfinite(converter->low) && converter->high < infinity && converter->low < converter->high)) {
    refuse("upper end of the " + sensor + "'s converter", converter->high, "above its lower end");
  }
}

void check_sensors(const Scenario& scenario) {
  if (!scenario.ecg && !scenario.pulse && !scenario.motion) {
    throw Error(ErrorCode::usage, "scenario: there is no sensor, so there would be no channel");
  }
  if (scenario.ecg) {
    positive("R wave in mV", scenario.ecg->r_mv);
    within("breathing depth of the ECG", scenario.ecg->breathing_depth, 0.0, 0.3);
    not_negative("movement artefact of the ECG", scenario.ecg->movement_mv_per_g);
    check_disturbance("ECG", scenario.ecg->disturbance);
    check_converter("ECG", scenario.ecg->converter);
  }
  if (scenario.pulse) {
    positive("amplitude of the pulse", scenario.pulse->amplitude);
    within("delay of the pulse at rest in s", scenario.pulse->resting_delay.value(), 0.0, 1.0);
    within("shortest delay of the pulse in s", scenario.pulse->shortest_delay.value(), 0.0, 1.0);
    within("breathing depth of the pulse", scenario.pulse->breathing_depth, 0.0, 0.3);
    within("filling of the pulse", scenario.pulse->filling, 0.0, 4.0);
    not_negative("movement artefact of the pulse", scenario.pulse->movement_per_g);
    if (!std::isfinite(scenario.pulse->level)) refuse("level of the pulse", scenario.pulse->level, "finite");
    check_disturbance("pulse", scenario.pulse->disturbance);
    check_converter("pulse", scenario.pulse->converter);
  }
  if (scenario.motion) {
    not_negative("noise of the accelerometer", scenario.motion->noise_g);
    check_converter("accelerometer", scenario.motion->converter);
  }
}

void check_faults(const Scenario& scenario) {
  not_negative("losses of contact a minute", scenario.contact.losses_per_minute);
  positive("mean loss of contact in s", scenario.contact.mean_loss.value());
  for (const DropOut& lost : scenario.contact.planned) {
    if (!(lost.span.start < lost.span.end)) refuse("end of a drop-out", lost.span.end.value(), "after its start");
  }
  positive("mean loose spell in s", scenario.loosening.loose.value());
  not_negative("mean tight spell in s", scenario.loosening.tight.value());
  within("lag of the artefact in s", scenario.loosening.lag.value(), 0.0, 1.0);
  within("clock error in ppm", scenario.clock.error_ppm, -100000.0, 100000.0);
  not_negative("jitter of the clock in s", scenario.clock.jitter.value());
  if (scenario.clock.stamps) {
    within("step of the time stamps in s", scenario.clock.stamps->value(), 0.0, 0.4 / scenario.rate.value());
  }
}

}  // namespace

void check_scenario(const Scenario& scenario) {
  within("sampling rate in Hz", scenario.rate.value(), 1.0, 100000.0);
  check_heart(scenario.heart);
  check_phases(scenario);
  check_sensors(scenario);
  check_faults(scenario);
  const double samples = samples_in(scenario.duration(), scenario.rate);
  if (!(samples >= 0.5)) refuse("duration times sampling rate", samples, "at least one sample");
  if (!(samples <= most_samples)) refuse("duration times sampling rate", samples, "at most 2^27 samples");
}

}  // namespace pulsewright::simulation
