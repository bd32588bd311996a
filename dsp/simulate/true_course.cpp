#include "true_course.hpp"

#include <cmath>

#include "ecg_wave.hpp"
#include "rate_course.hpp"

namespace pulsewright {

namespace simulation {

namespace {
constexpr double course_step = 1.0;
}

Truth true_course(const Scenario& scenario, const Timeline& timeline, const Movement& movement,
                  const SampleTimes& times) {
  Truth truth;
  truth.duration = scenario.duration();
  truth.clock_error_ppm = scenario.clock.error_ppm;
  const double end = truth.duration.value();
  for (std::size_t i = 0; course_step * static_cast<double>(i) <= end; ++i) {
    const double shown = course_step * static_cast<double>(i);
    const double t = times.unshown(shown);
    const WorkPhase& phase = timeline.phase(t);
    truth.course.push_back({Seconds{shown}, BeatsPerMinute{timeline.rate(t)}, timeline.reserve(t),
                            demand(scenario.heart, phase), Hertz{timeline.breaths_hz(t)}, phase.cadence});
  }
  double start = 0.0;
  for (const WorkPhase& phase : scenario.phases) {
    const double phase_end = start + phase.duration.value();
    truth.phases.push_back(
        {phase.name, {Seconds{times.shown(start)}, Seconds{times.shown(phase_end)}}, demand(scenario.heart, phase)});
    start = phase_end;
  }
  const auto shown = [&times](const Span& span) {
    return Span{Seconds{times.shown(span.start.value())}, Seconds{times.shown(span.end.value())}};
  };
  for (const Span& span : movement.moving()) truth.moving.push_back(shown(span));
  for (const Span& span : movement.loose()) truth.artefacts.push_back(shown(span));
  return truth;
}

std::vector<TrueBeat> true_beats(const std::vector<Contraction>& contractions, const std::vector<PulseDue>& due,
                                 const BumpWave& ecg, const BumpWave& pulse, const SampleTimes& times,
                                 Seconds duration) {
  const Span inside{Seconds{0.0}, duration};
  std::vector<TrueBeat> beats;
  for (std::size_t i = 0; i < contractions.size(); ++i) {
    TrueBeat beat;
    beat.time = Seconds{times.shown(r_peak(ecg, contractions[i]))};
    beat.label = contractions[i].label;
    const BumpWave::Peak systole = systolic_peak(pulse, due[i], contractions[i]);
    beat.pulse_time = Seconds{times.shown(systole.time)};
    beat.pulse_visible = systole.found;
    beat.delay = beat.pulse_time - beat.time;
    if (inside.contains(beat.time) || inside.contains(beat.pulse_time)) beats.push_back(beat);
  }
  return beats;
}

}  // namespace simulation

namespace {

Beat as_beat(Seconds time, BeatLabel label, Hertz rate) {
  return {time, nearest_sample(time, rate), 1.0, BeatVerdict::accepted, label};
}

}  // namespace

BeatTrain Truth::ecg_train(Hertz rate) const {
  BeatTrain train;
  train.duration = duration;
  train.source = BeatSource::ecg;
  const Span inside{Seconds{0.0}, duration};
  for (const TrueBeat& beat : beats) {
    if (inside.contains(beat.time)) train.candidates.push_back(as_beat(beat.time, beat.label, rate));
  }
  return train;
}

BeatTrain Simulation::readable_beats() const {
  return scenario.ecg || !scenario.pulse ? truth.ecg_train(scenario.rate) : truth.pulse_train(scenario.rate);
}

BeatTrain Truth::pulse_train(Hertz rate) const {
  BeatTrain train;
  train.duration = duration;
  train.source = BeatSource::pulse;
  const Span inside{Seconds{0.0}, duration};
  for (const TrueBeat& beat : beats) {
    if (beat.pulse_visible && inside.contains(beat.pulse_time)) {
      train.candidates.push_back(as_beat(beat.pulse_time, beat.label, rate));
    }
  }
  return train;
}

}  // namespace pulsewright
