/// `variability`: how much the time between beats varies.
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

struct VariabilityFlags {
  InputFlags input;
  OutputFlags output;
};

ExitCode run(const VariabilityFlags& flags) {
  prepare_output(flags.output);
  const BeatTrain beats = stamped_beats(flags.input, settings(flags.input));
  Variability result = variability(clean(beats));
  result.provenance = beats.provenance;
  talk_warnings(beats.warnings);
  talk_warnings(result.warnings);
  deliver(flags.output, "variability",
          {[&] { return variability_text(result); },
           [&](const NumberStyle& style) { return variability_csv(result, style); },
           [&] { return variability_json(result); }});
  return result.mean_nn_ms ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_variability(Program& program) {
  const auto flags = std::make_shared<VariabilityFlags>();
  CLI::App* command =
      program.app.add_subcommand("variability", "How much the time between beats varies: SDNN, RMSSD, ...");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright variability datasets/simulated/heron_rest_ecg.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
