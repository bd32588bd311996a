/// `intervals`: the time between beats, judged and corrected.
#include <memory>

#include "commands.hpp"
#include "options/clean_options.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct IntervalsFlags {
  InputFlags input;
  CleanFlags clean;
  OutputFlags output;
};

ExitCode run(const IntervalsFlags& flags) {
  prepare_output(flags.output);
  const BeatTrain beats = stamped_beats(flags.input, joined({settings(flags.input), settings(flags.clean)}));
  Intervals intervals = clean(beats, clean_options(flags.clean));
  intervals.provenance = beats.provenance;
  talk_warnings(beats.warnings);
  talk_warnings(intervals.warnings);
  deliver(flags.output, "intervals",
          {[&] { return intervals_text(intervals); },
           [&](const NumberStyle& style) { return intervals_csv(intervals, style); },
           [&] { return intervals_json(intervals); }});
  return intervals.intervals.empty() ? ExitCode::no_value : ExitCode::done;
}

}  // namespace

void add_intervals(Program& program) {
  const auto flags = std::make_shared<IntervalsFlags>();
  Command* command = program.app.add_subcommand("intervals", "The time between beats: original, verdict, correction");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  add_clean_options(*command, flags->clean);
  add_output_options(*command, flags->output, "csv");
  end_help(*command, "pulsewright intervals datasets/simulated/heron_rest_ecg.csv --format text");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
