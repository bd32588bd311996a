/// `effort`: how hard the heart worked, against what is known of the person.
#include <memory>

#include "commands.hpp"
#include "help_ending.hpp"
#include "input_options.hpp"
#include "output_options.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct EffortFlags {
  InputFlags input;
  StageFlags stages;
  OutputFlags output;
};

ExitCode run(const EffortFlags& flags) {
  prepare_output(flags.output);
  const Analysis analysis = analyze_input(flags.input, flags.stages);
  talk_warnings(warnings_of(analysis));
  deliver(flags.output, "effort",
          {[&] { return effort_text(analysis.effort); },
           [&](const NumberStyle& style) { return effort_csv(analysis.effort, style); },
           [&] { return effort_json(analysis.effort); }});
  return analysis.effort.mean_rate ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_effort(Program& program) {
  const auto flags = std::make_shared<EffortFlags>();
  CLI::App* command =
      program.app.add_subcommand("effort", "How hard the heart worked: time at each intensity and in the target");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  add_window_options(*command, flags->stages.window);
  add_person_options(*command, flags->stages.person);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright effort datasets/simulated/wren_stair_climb.csv --code wren --age 15 --resting 66");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
