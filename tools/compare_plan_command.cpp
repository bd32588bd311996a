/// `compare plan`: how many people a study needs.
#include <memory>

#include "compare_subcommands.hpp"
#include "options/help_ending.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright::program {
namespace {

struct PlanFlags {
  double sd_bpm = 0, half_width_bpm = 0;
  OutputFlags output;
};

ExitCode run(const PlanFlags& flags) {
  prepare_output(flags.output);
  const LimitsPlan plan = plan_limits(flags.sd_bpm, flags.half_width_bpm);
  Provenance provenance{.input = "plan", .format = "numbers", .sha256 = "", .options = "", .version = version()};
  deliver(flags.output, "limits_plan",
          {[&] { return plan_text(plan); }, [&](const NumberStyle& style) { return plan_csv(plan, style); },
           [&] { return plan_json(plan, provenance); }});
  return ExitCode::done;
}

}  // namespace

void add_compare_plan(Program& program, Command& compare) {
  const auto flags = std::make_shared<PlanFlags>();
  Command* command = compare.add_subcommand("plan", "How many independent differences narrow limits of agreement need");
  command->add_option("--sd", flags->sd_bpm, "SD of the differences, from a first study")
      ->required()
      ->check(number_between(1e-3, 1e4))
      ->type_name("BPM");
  command->add_option("--half-width", flags->half_width_bpm, "Wanted half width of the 95 % interval of a limit")
      ->required()
      ->check(number_between(1e-3, 1e4))
      ->type_name("BPM");
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright compare plan --sd 4 --half-width 1.5");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
