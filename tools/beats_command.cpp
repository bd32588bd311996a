/// `beats`: when the heart beat.
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct BeatsFlags {
  InputFlags input;
  OutputFlags output;
  BeatListing listing;
};

ExitCode run(const BeatsFlags& flags) {
  prepare_output(flags.output);
  const BeatTrain beats = stamped_beats(flags.input, settings(flags.input));
  talk_warnings(beats.warnings);
  deliver(flags.output, "beats",
          {[&] { return beats_text(beats); },
           [&](const NumberStyle& style) { return beats_csv(beats, flags.listing, style); },
           [&] { return beats_json(beats, flags.listing); }});
  return beats.accepted().empty() ? ExitCode::no_value : ExitCode::done;
}

}  // namespace

void add_beats(Program& program) {
  const auto flags = std::make_shared<BeatsFlags>();
  Command* command = program.app.add_subcommand("beats", "When the heart beat");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  command->add_flag("--all", flags->listing.rejected, "Rejected candidates too, with a column that says why");
  command->add_flag("--feet", flags->listing.feet, "Of a pulse: where the upstroke begins, in a column of its own");
  command->add_flag("--labels", flags->listing.labels,
                    "Of an ECG: what kind of beat each is, in a column that --input beats reads back");
  add_output_options(*command, flags->output, "csv");
  end_help(*command, "pulsewright beats datasets/simulated/wren_stair_climb.csv --kind pulse");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
