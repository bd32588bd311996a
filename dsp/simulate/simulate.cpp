#include "pulsewright/simulate.hpp"

#include <cmath>

#include "beat_times.hpp"
#include "check_scenario.hpp"
#include "conversion.hpp"
#include "disturbance.hpp"
#include "ecg_wave.hpp"
#include "lost_contact.hpp"
#include "movement.hpp"
#include "pulse_wave.hpp"
#include "sample_times.hpp"
#include "timeline.hpp"
#include "true_course.hpp"

namespace pulsewright {

using namespace simulation;

namespace {

/// Everything that channels are made from.
struct Stage {
  const Scenario& scenario;
  SampleTimes times;
  Timeline timeline;
  Movement movement;

  explicit Stage(const Scenario& s)
      : scenario(s),
        times(s),
        timeline(s, times.unshown(s.duration().value())),
        movement(s, timeline, times.unshown(s.duration().value())) {}
};

Channel channel(const Stage& stage, const std::string& name, const std::string& unit, ChannelKind kind,
                std::vector<float> samples) {
  Channel c;
  c.name = name;
  c.unit = unit;
  c.kind = kind;
  c.rate = stage.scenario.rate;
  c.samples = std::move(samples);
  c.times = stage.times.stamps();
  return c;
}

Channel ecg_channel(const Stage& stage, const EcgSensor& sensor, const BumpWave& wave) {
  std::vector<double> values = wave.sampled(stage.times);
  const std::vector<double> noise = disturbance(sensor.disturbance, values, stage.times, stage.timeline,
                                                stage.scenario.rate, Random(stage.scenario.seed, Stream::ecg_noise));
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] += noise[i] + sensor.movement_mv_per_g * stage.movement.artefact(stage.times.true_time(i));
  }
  return channel(stage, sensor.name, "mV", ChannelKind::ecg, convert(values, sensor.converter));
}

Channel pulse_channel(const Stage& stage, const PulseSensor& sensor, const BumpWave& wave) {
  const double height = sensor.polarity == PulsePolarity::systole_up ? sensor.amplitude : -sensor.amplitude;
  std::vector<double> values = wave.sampled(stage.times);
  for (double& v : values) v *= height;
  const std::vector<double> noise = disturbance(sensor.disturbance, values, stage.times, stage.timeline,
                                                stage.scenario.rate, Random(stage.scenario.seed, Stream::pulse_noise));
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] += sensor.level - mean_height * height + noise[i];
    values[i] += sensor.movement_per_g * stage.movement.artefact(stage.times.true_time(i));
  }
  return channel(stage, sensor.name, "counts", ChannelKind::pulse, convert(values, sensor.converter));
}

void add_acceleration(const Stage& stage, const MotionSensor& sensor, std::vector<Channel>& channels) {
  Random random(stage.scenario.seed, Stream::motion_noise);
  std::array<std::vector<double>, 3> values;
  for (std::size_t i = 0; i < stage.times.size(); ++i) {
    const std::array<double, 3> g = stage.movement.acceleration(stage.times.true_time(i));
    for (std::size_t axis = 0; axis < 3; ++axis) values[axis].push_back(g[axis] + sensor.noise_g * random.gaussian());
  }
  constexpr std::array<const char*, 3> names{"acc_x", "acc_y", "acc_z"};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    channels.push_back(
        channel(stage, names[axis], "g", ChannelKind::acceleration, convert(values[axis], sensor.converter)));
  }
}

}  // namespace

Seconds Scenario::duration() const {
  Seconds sum;
  for (const WorkPhase& phase : phases) sum += phase.duration;
  return sum;
}

Simulation simulate(const Scenario& scenario) {
  check_scenario(scenario);
  const Stage stage(scenario);
  const std::vector<Contraction> contractions = beat_times(stage.timeline, scenario.heart.early, scenario.seed);

  // The waves exist whether or not a sensor records them: the truth is the same for every device.
  const EcgSensor ecg = scenario.ecg.value_or(EcgSensor{});
  const PulseSensor pulse = scenario.pulse.value_or(PulseSensor{});
  const BumpWave ecg_bumps = ecg_wave(contractions, stage.timeline, ecg);
  const std::vector<PulseDue> due = pulses_due(contractions, stage.timeline, pulse, scenario.seed);
  const BumpWave pulse_bumps = pulse_wave(contractions, due);

  Simulation result;
  result.scenario = scenario;
  Truth& truth = result.truth;
  truth = true_course(scenario, stage.timeline, stage.movement, stage.times);
  truth.drop_outs = drop_outs(scenario.contact, scenario.duration(), scenario.seed);
  truth.beats = true_beats(contractions, due, ecg_bumps, pulse_bumps, stage.times, scenario.duration());

  Recording& recording = result.recording;
  if (scenario.ecg) recording.channels.push_back(ecg_channel(stage, ecg, ecg_bumps));
  if (scenario.pulse) recording.channels.push_back(pulse_channel(stage, pulse, pulse_bumps));
  if (scenario.motion) add_acceleration(stage, *scenario.motion, recording.channels);
  for (Channel& c : recording.channels) lose_contact(c, truth.drop_outs);
  recording.duration = time_of(SampleIndex{static_cast<std::int64_t>(stage.times.size())}, scenario.rate);
  recording.provenance = {scenario.person.empty() ? scenario.name : scenario.name + " by " + scenario.person,
                          "simulated", "", scenario_json(scenario), version()};
  return result;
}

}  // namespace pulsewright
