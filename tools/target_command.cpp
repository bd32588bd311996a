/// `target`: the band of heart rates to aim for, from age and resting rate.
#include <memory>

#include "commands.hpp"
#include "help_ending.hpp"
#include "output_options.hpp"
#include "person_options.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct TargetFlags {
  PersonFlags person;
  OutputFlags output;
};

ExitCode run(const TargetFlags& flags) {
  prepare_output(flags.output);
  const Person person = person_of(flags.person);
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
  provenance.options = settings(flags.person).dump();
  provenance.version = version();
  deliver(
      flags.output, "target",
      {[&] { return target_text(target, person); }, [&](const NumberStyle& style) { return target_csv(target, style); },
       [&] { return target_json(target, person, provenance); }});
  return ExitCode::done;
}

}  // namespace

void add_target(Program& program) {
  const auto flags = std::make_shared<TargetFlags>();
  CLI::App* command = program.app.add_subcommand(
      "target", "The heart rates to aim for: by share of the reserve, without --resting of the maximum");
  add_person_options(*command, flags->person);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright target --age 15 --resting 66");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
