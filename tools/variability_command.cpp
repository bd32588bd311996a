/// `variability`: how much the time between beats varies.
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "options/clean_options.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/variability_options.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct VariabilityFlags {
  InputFlags input;
  CleanFlags clean;
  VariabilitySettings measures;
  OutputFlags output;
};

ExitCode deliver_windows(const VariabilityFlags& flags, const Intervals& intervals, const SlidingOptions& sliding,
                         const VariabilityOptions& options) {
  const std::vector<VariabilityWindow> windows = sliding_variability(intervals, sliding, options);
  deliver(flags.output, "variability",
          {[&] { return variability_windows_text(windows); },
           [&](const NumberStyle& style) { return variability_windows_csv(windows, style); },
           [&] { return variability_windows_json(windows, sliding, intervals.warnings, intervals.provenance); }});
  const bool any = std::any_of(windows.begin(), windows.end(),
                               [](const VariabilityWindow& window) { return window.result.mean_nn_ms.has_value(); });
  return any ? ExitCode::done : ExitCode::no_value;
}

ExitCode run(const VariabilityFlags& flags) {
  const VariabilityOptions options = variability_options(flags.measures);
  const std::optional<SlidingOptions> sliding = sliding_options(flags.measures);
  prepare_output(flags.output);
  const BeatTrain beats =
      stamped_beats(flags.input, joined({settings(flags.input), settings(flags.clean), settings(flags.measures)}));
  talk_warnings(beats.warnings);
  Intervals intervals = clean(beats, clean_options(flags.clean));
  intervals.provenance = beats.provenance;
  if (sliding) {
    talk_warnings(intervals.warnings);
    return deliver_windows(flags, intervals, *sliding, options);
  }
  const Variability result = variability(intervals, options);
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
  Command* command =
      program.app.add_subcommand("variability", "How much the time between beats varies: over time and frequency");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  add_clean_options(*command, flags->clean);
  add_variability_options(*command, flags->measures);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright variability datasets/simulated/heron_rest_ecg.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
