/// `inspect`: what a file holds.
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct InspectFlags {
  InputFlags input;
  OutputFlags output;
};

ExitCode run(const InspectFlags& flags) {
  prepare_output(flags.output);
  Recording recording = read_recording(flags.input.input, read_options(flags.input));
  recording.provenance.options = settings_text(settings(flags.input));
  recording.provenance.version = version();
  talk_warnings(recording.warnings);
  deliver(flags.output, "recording",
          {[&] { return recording_text(recording); },
           [&](const NumberStyle& style) { return recording_csv(recording, style); },
           [&] { return recording_json(recording); }});
  for (const Channel& channel : recording.channels)
    if (!channel.samples.empty()) return ExitCode::done;
  return ExitCode::no_value;
}

}  // namespace

void add_inspect(Program& program) {
  const auto flags = std::make_shared<InspectFlags>();
  Command* command = program.app.add_subcommand("inspect", "What a recording holds: channels, rates, missing samples");
  add_reading_options(*command, flags->input);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright inspect datasets/simulated/wren_stair_climb.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
