/// Scenarios of a science club that builds optical finger clips and tries them on a stair-climb. All people and numbers are invented.
#include <fmt/format.h>

#include <array>

#include "pulsewright/simulate.hpp"

namespace pulsewright {

namespace {

/// A member of the club.
struct Member {
  const char* code;
  double age_years;
  double resting_bpm;
  double maximum_bpm;
  double climb_workload;  ///< fraction of reserve on the stairs at the member's own pace
  double cadence_hz;      ///< steps a second at that pace
  double rise_s;
  double fall_s;
  double early_per_minute;
};

/// Wren is quick and coasts; Heron is slow and at the limit; Plover is in between, has early beats, and wears the clip loosely.
/// The others are there for studies that need more people.
constexpr std::array<Member, 8> members{
    Member{"wren", 15, 66, 205, 0.46, 2.1, 26, 48, 0.0},   Member{"heron", 15, 84, 198, 0.93, 1.3, 34, 85, 0.0},
    Member{"plover", 14, 70, 206, 0.68, 1.7, 30, 60, 1.5}, Member{"lapwing", 16, 58, 193, 0.62, 1.9, 24, 45, 0.0},
    Member{"siskin", 14, 78, 211, 0.74, 1.6, 31, 66, 0.0}, Member{"dunlin", 15, 63, 199, 0.55, 1.8, 28, 52, 0.2},
    Member{"curlew", 17, 72, 190, 0.81, 1.5, 33, 72, 0.0}, Member{"bunting", 14, 88, 202, 0.86, 1.4, 36, 80, 0.5}};

Member member(const std::string& person) {
  std::string list;
  for (const Member& m : members) {
    if (person == m.code) return m;
    list += list.empty() ? m.code : std::string(", ") + m.code;
  }
  throw Error(ErrorCode::usage, fmt::format("there is nobody called '{}' in the club; there are {}", person, list));
}

WorkPhase still(const char* name, double seconds, double workload = 0.0) {
  return {.name = name, .duration = Seconds{seconds}, .workload = workload};
}

WorkPhase moving(const char* name, double seconds, double workload, double cadence_hz, double movement = 1.0) {
  return {.name = name,
          .duration = Seconds{seconds},
          .workload = workload,
          .cadence = Hertz{cadence_hz},
          .movement = movement};
}

WorkPhase held(const char* name, double seconds, double bpm) {
  return {.name = name, .duration = Seconds{seconds}, .target = BeatsPerMinute{bpm}};
}

/// The member with the club's chest ECG, finger clip and accelerometer.
Scenario equipped(const Member& m) {
  Scenario s;
  s.person = m.code;
  s.age_years = m.age_years;
  s.heart.resting = BeatsPerMinute{m.resting_bpm};
  s.heart.maximum = BeatsPerMinute{m.maximum_bpm};
  s.heart.rise = Seconds{m.rise_s};
  s.heart.fall = Seconds{m.fall_s};
  s.heart.drift = BeatsPerMinute{8.0};
  s.ecg = EcgSensor{};
  s.pulse = PulseSensor{};
  s.motion = MotionSensor{};
  return s;
}

Scenario rest(const Member& m) {
  Scenario s = equipped(m);
  s.phases = {still("sitting", 300)};
  return s;
}

Scenario stair_climb(const Member& m) {
  Scenario s = equipped(m);
  s.phases = {still("sitting", 90), moving("first climb", 120, m.climb_workload, m.cadence_hz),
              moving("walking down", 45, 0.45 * m.climb_workload, 0.9 * m.cadence_hz, 0.8),
              moving("second climb", 120, m.climb_workload, m.cadence_hz), still("recovery", 105)};
  s.heart.early.ventricular_per_minute = 0.5 * m.early_per_minute;
  s.heart.early.supraventricular_per_minute = 0.5 * m.early_per_minute;
  if (m.early_per_minute > 0.0) {
    s.contact.losses_per_minute = 0.5;
    s.pulse->movement_per_g = 110.0;
  }
  return s;
}

Scenario early_beats(const Member& m) {
  Scenario s = equipped(m);
  s.phases = {still("sitting", 300)};
  s.heart.early.ventricular_per_minute = 3.0;
  s.heart.early.supraventricular_per_minute = 3.0;
  return s;
}

Scenario bigeminy(const Member& m) {
  Scenario s = equipped(m);
  s.phases = {still("sitting", 120)};
  s.heart.early.ventricular_every = 2;
  return s;
}

/// Sudden changes of the rate, to see how quickly a reading follows.
Scenario rate_steps(const Member& m) {
  Scenario s = equipped(m);
  s.heart.resting = BeatsPerMinute{40.0};
  s.heart.maximum = BeatsPerMinute{205.0};
  s.heart.rise = s.heart.fall = Seconds{0.5};
  s.heart.drift = BeatsPerMinute{0.0};
  s.heart.resting_sdnn_ms = 20.0;
  s.phases = {held("80", 60, 80), held("120", 60, 120), held("80 again", 60, 80), held("40", 60, 40),
              held("180", 60, 180)};
  return s;
}

/// A wrist sensor by reflected light on a run: strong artefacts at the cadence, close to the heart rate.
Scenario wrist_run(const Member& m) {
  Scenario s = equipped(m);
  s.pulse = PulseSensor::reflective();
  s.rate = Hertz{125.0};
  s.phases = {still("standing", 30), moving("slow run", 90, 0.60, 2.5, 2.0), moving("fast run", 120, 0.85, 2.8, 3.0),
              still("standing again", 60)};
  return s;
}

struct Entry {
  ScenarioName name;
  Scenario (*make)(const Member&);
};

const std::array<Entry, 6>& entries() {
  static const std::array<Entry, 6> all{
      Entry{{"stair-climb", "sitting, two climbs with a walk down between, recovery; 8 minutes"}, stair_climb},
      Entry{{"rest", "sitting for 5 minutes"}, rest},
      Entry{{"early-beats", "sitting for 5 minutes with ventricular and supraventricular beats"}, early_beats},
      Entry{{"bigeminy", "every second beat ventricular for 2 minutes"}, bigeminy},
      Entry{{"rate-steps", "80, 120, 80, 40 and 180 beats/min for a minute each"}, rate_steps},
      Entry{{"wrist-run", "reflected light at the wrist while running; 5 minutes"}, wrist_run}};
  return all;
}

}  // namespace

std::vector<ScenarioName> scenario_names() {
  std::vector<ScenarioName> names;
  for (const Entry& entry : entries()) names.push_back(entry.name);
  return names;
}

std::vector<std::string> scenario_people() {
  std::vector<std::string> people;
  people.reserve(members.size());
  for (const Member& m : members) people.emplace_back(m.code);
  return people;
}

Scenario named_scenario(const std::string& name, const std::string& person) {
  std::string list;
  for (const Entry& entry : entries()) {
    if (entry.name.name == name) {
      Scenario scenario = entry.make(member(person));
      scenario.name = name;
      return scenario;
    }
    list += (list.empty() ? "" : ", ") + entry.name.name;
  }
  throw Error(ErrorCode::usage, fmt::format("there is no scenario '{}'; there are {}", name, list));
}

Scenario stretched(Scenario scenario, Seconds duration) {
  const Seconds before = scenario.duration();
  if (!(duration.value() > 0.0 && before.value() > 0.0)) {
    throw Error(ErrorCode::usage, fmt::format("duration is {} s, but must be positive", duration.value()));
  }
  for (WorkPhase& phase : scenario.phases) phase.duration = phase.duration * (duration / before);
  return scenario;
}

PulseSensor PulseSensor::reflective() {
  PulseSensor sensor;
  sensor.level = 32000.0;
  sensor.amplitude = 500.0;
  sensor.resting_delay = Seconds{0.28};
  sensor.shortest_delay = Seconds{0.20};
  sensor.movement_per_g = 600.0;
  sensor.polarity = PulsePolarity::systole_down;
  sensor.disturbance = {.white = 10.0, .baseline = 150.0};
  sensor.converter = Converter{.bits = 16, .low = 0.0, .high = 65536.0};
  return sensor;
}

}  // namespace pulsewright
