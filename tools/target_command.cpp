/// `target`: the band of heart rates to aim for, of one person or of a roster, and plans that follow from it.
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/person_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct TargetFlags {
  std::string roster;
  PersonFlags person;
  OutputFlags output;
  std::string plan;
  std::optional<double> count;
  double count_seconds = 15;
  std::string count_from = "moment";
};

std::optional<RestingCount> pulse_count(const TargetFlags& flags) {
  if (!flags.count) return std::nullopt;
  const RestingCount count{static_cast<int>(*flags.count), Seconds{flags.count_seconds},
                           flags.count_from == "beat" ? CountStart::on_a_beat : CountStart::any_moment};
  if (static_cast<double>(count.beats) != *flags.count)
    throw Error(ErrorCode::usage, "--count is a whole number of beats");
  return count;
}

Json settings_of(const TargetFlags& flags) {
  Json options = settings(flags.person);
  if (!flags.plan.empty()) options["plan"] = flags.plan;
  if (flags.count) {
    options["count"] = *flags.count;
    options["count_over_s"] = flags.count_seconds;
    options["count_from"] = flags.count_from;
  }
  return options;
}

/// One person of the command line, as a table of one for what is made from tables.
TargetTable table_of_one(const Person& person, const TargetZone& target, const Provenance& provenance) {
  TargetTable table;
  table.people.push_back({person, target, {}});
  table.provenance = provenance;
  return table;
}

void deliver_plan(const TargetFlags& flags, const TargetTable& table) {
  const PlanDurations durations = plan_durations(flags.plan);
  deliver(flags.output, "plan",
          {[&] { return plan_text(table, durations); },
           [&](const NumberStyle& style) { return plan_csv(table, durations, style); },
           [&] { return plan_json(table, durations); }});
}

ExitCode run_roster(const TargetFlags& flags) {
  const PersonFlags& p = flags.person;
  if (p.age || p.resting || p.maximum || p.ceiling || !p.code.empty() || flags.count)
    throw Error(ErrorCode::usage,
                "a roster says who is who: leave out --age, --resting, --maximum, --ceiling, --code and --count");
  TargetTable table = target_table(read_roster(flags.roster), effort_options(p));
  table.provenance.options = settings_text(settings_of(flags));
  talk_warnings(table.warnings);
  if (!flags.plan.empty())
    deliver_plan(flags, table);
  else
    deliver(flags.output, "target_table",
            {[&] { return target_table_text(table); },
             [&](const NumberStyle& style) { return target_table_csv(table, style); },
             [&] { return target_table_json(table); }});
  for (const PersonTarget& row : table.people)
    if (row.target) return ExitCode::done;
  return ExitCode::no_value;
}

ExitCode run_person(const TargetFlags& flags) {
  Person person = person_of(flags.person);
  const std::optional<RestingCount> count = pulse_count(flags);
  if (count && person.resting)
    throw Error(ErrorCode::usage, "--count and --resting both say the resting rate: give one");
  if (count) person.resting = counted_resting(*count).rate;
  const EffortOptions options = effort_options(flags.person);
  const std::optional<MaximumRate> maximum = maximum_rate(person, options.equation);
  if (!maximum) throw Error(ErrorCode::usage, "a target needs --age, or --maximum where it was measured");
  std::optional<RestingRate> resting;
  if (person.resting) resting = RestingRate{*person.resting, RestingSource::given, std::nullopt};
  TargetZone target = target_zone(*maximum, resting, options.low_fraction, options.high_fraction);
  if (person.own_ceiling) {
    const std::optional<TargetZone> limited = with_ceiling(target, *person.own_ceiling);
    if (!limited)
      throw Error(ErrorCode::usage, "--ceiling lies below the band that the formula gives, which starts at " +
                                        std::to_string(whole_beats(target.low)) +
                                        " beats/min: no target by formula applies, ask who set the limit");
    target = *limited;
  }

  talk_warnings(person_warnings(flags.person));
  talk_warnings(maximum_warnings(person, *maximum));
  Provenance provenance;
  provenance.input = "command line";
  provenance.format = "options";
  provenance.options = settings_text(settings_of(flags));
  provenance.version = version();
  if (!flags.plan.empty()) {
    deliver_plan(flags, table_of_one(person, target, provenance));
    return ExitCode::done;
  }
  const auto page = [&] {
    const std::string target_page = target_text(target, person);
    return person.resting ? resting_text(*person.resting, person.age_years, count) + "\n" + target_page : target_page;
  };
  deliver(flags.output, "target",
          {page, [&](const NumberStyle& style) { return target_csv(target, style); },
           [&] { return target_json(target, person, provenance); }});
  return ExitCode::done;
}

}  // namespace

void add_target(Program& program) {
  const auto flags = std::make_shared<TargetFlags>();
  Command* command = program.app.add_subcommand(
      "target",
      "The heart rates to aim for: by share of the reserve, without a resting rate of the maximum; and plans");
  command->add_option("ROSTER", flags->roster, "A roster: everybody's target, instead of one person's from the options")
      ->type_name("");
  add_person_options(*command, flags->person);
  Option* count = command->add_option("--count", flags->count, "Resting rate as counted by hand, in beats")
                      ->check(number_between(1, 250))
                      ->type_name("BEATS");
  command->add_option("--count-over", flags->count_seconds, "Seconds that were counted over: 10, 15, 20, 30 or 60")
      ->type_name("SECONDS")
      ->needs(count)
      ->capture_default_str();
  command
      ->add_option("--count-from", flags->count_from,
                   "When the watch was started: on a beat, which counts as zero, or at any moment")
      ->check(one_of({"beat", "moment"}))
      ->type_name("beat|moment")
      ->needs(count)
      ->capture_default_str();
  command
      ->add_option(
          "--plan", flags->plan,
          "Turn the target into a plan: warm-up, work and cool-down in minutes, as 5-20-5, or in bouts 5-3x4/2-5 "
          "(three of four minutes with pauses of two)")
      ->type_name("MINUTES");
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright target --age 15 --resting 66");
  command->callback([&program, flags] {
    program.run = [flags] {
      prepare_output(flags->output);
      return flags->roster.empty() ? run_person(*flags) : run_roster(*flags);
    };
  });
}

}  // namespace pulsewright::program
