#include "person_options.hpp"

#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

std::vector<std::string> equation_words() {
  std::vector<std::string> words;
  words.reserve(all_equations.size());
  for (const MaximumSource source : all_equations) words.emplace_back(to_string(source));
  return words;
}

// What a rate on the command line may be, in beats/min: far beyond any person's, close enough to catch a slip of the fingers.
constexpr double lowest_resting = 25, highest_resting = 150;
constexpr double lowest_maximum = 60, highest_maximum = 250;

std::optional<BeatsPerMinute> as_rate(const std::optional<double>& value) {
  return value ? std::optional<BeatsPerMinute>(BeatsPerMinute{*value}) : std::nullopt;
}

}  // namespace

void add_person_options(Command& command, PersonFlags& flags) {
  command.add_option("--code", flags.code, "Code of the person, never a name")->type_name("TEXT");
  command.add_option("--age", flags.age, "Age")->check(number_between(1, 120))->type_name("YEARS");
  command.add_option("--sex", flags.sex, "Sex, for formulas that ask for it")
      ->check(one_of({"unstated", "female", "male"}))
      ->type_name("female|male");
  command
      .add_option("--resting", flags.resting,
                  "Resting heart rate, in beats/min; makes the target a share of the reserve, maximum - resting")
      ->check(number_between(lowest_resting, highest_resting))
      ->type_name("BPM");
  command.add_option("--maximum", flags.maximum, "Measured maximum heart rate; goes before any formula")
      ->check(number_between(lowest_maximum, highest_maximum))
      ->type_name("BPM");
  command.add_option("--ceiling", flags.ceiling, "Limit set for this person by a professional, in beats/min")
      ->check(number_between(lowest_resting, highest_maximum))
      ->type_name("BPM");
  command
      .add_option("--exercise", flags.exercise,
                  "What was moved; formulas of the maximum are about legs and too high for arms and wheelchairs")
      ->check(one_of({"legs", "arms", "wheelchair"}))
      ->type_name("legs|arms|wheelchair");
  add_target_options(command, flags);
}

void add_target_options(Command& command, PersonFlags& flags) {
  command
      .add_option("--equation", flags.equation,
                  "Maximum from age: fox 220 - age; tanaka 208 - 0.7 age; gellish 207 - 0.7 age; nes 211 - 0.64 age; "
                  "gulati 206 - 0.88 age, adult women; mahon 201, 7 to 17 years")
      ->check(one_of(equation_words()))
      ->type_name("WORD")
      ->capture_default_str();
  command
      .add_option("--low", flags.low_percent,
                  "Lower end of the target, in per cent of the reserve; of the maximum where no resting rate is known")
      ->check(number_between(0, 100))
      ->type_name("PERCENT")
      ->capture_default_str();
  command
      .add_option("--high", flags.high_percent,
                  "Upper end of the target, in per cent of the reserve; of the maximum where no resting rate is known")
      ->check(number_between(0, 100))
      ->type_name("PERCENT")
      ->capture_default_str();
}

Person person_of(const PersonFlags& flags) {
  Person person;
  person.code = flags.code;
  person.age_years = flags.age;
  person.sex = sex_of(flags.sex).value_or(Sex::unstated);
  person.exercise = exercise_of(flags.exercise).value_or(Exercise::legs);
  person.resting = as_rate(flags.resting);
  person.measured_maximum = as_rate(flags.maximum);
  person.own_ceiling = as_rate(flags.ceiling);
  return person;
}

Warnings person_warnings(const PersonFlags& flags) {
  if (flags.code.find(' ') == std::string::npos) return {};
  return {{"code_looks_like_a_name",
           "--code '" + flags.code +
               "' looks like a name; a recording is health data, better kept under a code, as wren or P07"}};
}

EffortOptions effort_options(const PersonFlags& flags) {
  if (!(flags.low_percent < flags.high_percent)) throw Error(ErrorCode::usage, "--low has to be below --high");
  EffortOptions options;
  options.equation = equation_of(flags.equation).value_or(MaximumSource::fox_1971);
  options.low_fraction = flags.low_percent / 100;
  options.high_fraction = flags.high_percent / 100;
  return options;
}

Json settings(const PersonFlags& flags) {
  auto options = Json::object();
  const auto note = [&options](const char* key, const std::optional<double>& value) {
    if (value) options[key] = *value;
  };
  if (!flags.code.empty()) options["code"] = flags.code;
  note("age_years", flags.age);
  if (flags.sex != "unstated") options["sex"] = flags.sex;
  note("resting_bpm", flags.resting);
  note("maximum_bpm", flags.maximum);
  note("ceiling_bpm", flags.ceiling);
  if (flags.exercise != PersonFlags{}.exercise) options["exercise"] = flags.exercise;
  if (flags.equation != PersonFlags{}.equation) options["equation"] = flags.equation;
  if (flags.low_percent != PersonFlags{}.low_percent) options["low_percent"] = flags.low_percent;
  if (flags.high_percent != PersonFlags{}.high_percent) options["high_percent"] = flags.high_percent;
  return options;
}

}  // namespace pulsewright::program
