/// `breathing`: breathing rate over windows, as the beats show it.
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/breathing_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct BreathingFlags {
  InputFlags input;
  double window_s = 32;
  double step_s = 4;
  OutputFlags output;
};

constexpr double shortest_window_s = 16, longest_window_s = 600;

BreathingSeries breathing_of(const BreathingFlags& flags, Warnings& of_beats) {
  BreathingOptions options;
  options.window = Seconds{flags.window_s};
  options.step = Seconds{flags.step_s};
  Json settings_of_all = settings(flags.input);
  if (flags.window_s != BreathingFlags{}.window_s) settings_of_all["window_s"] = flags.window_s;
  if (flags.step_s != BreathingFlags{}.step_s) settings_of_all["step_s"] = flags.step_s;
  BeatTrain beats;
  Recording recording;
  std::vector<const Channel*> channels;
  if (flags.input.form == "recording") {
    recording = read_recording(flags.input.input, read_options(flags.input));
    const FindOptions finding = find_options(flags.input, recording);
    const ChosenSignals chosen = choose_signals(recording, finding);
    beats = reviewed(find_beats(recording, chosen, finding), flags.input);
    channels.reserve(chosen.channels.size());
    for (const std::size_t position : chosen.channels) channels.push_back(&recording.channels[position]);
  } else {
    beats = beats_of(flags.input);
  }
  of_beats = beats.warnings;
  beats.provenance.options = settings_text(settings_of_all);
  return breathing_rate(beats, channels, options);
}

ExitCode run(const BreathingFlags& flags) {
  prepare_output(flags.output);
  Warnings of_beats;
  const BreathingSeries series = breathing_of(flags, of_beats);
  talk_warnings(of_beats);
  talk_warnings(series.warnings);
  deliver(
      flags.output, "breathing",
      {[&] { return breathing_text(series); }, [&](const NumberStyle& style) { return breathing_csv(series, style); },
       [&] { return breathing_json(series); }});
  const bool any = std::any_of(series.windows.begin(), series.windows.end(),
                               [](const BreathingWindow& window) { return window.rate.has_value(); });
  return any ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_breathing(Program& program) {
  const auto flags = std::make_shared<BreathingFlags>();
  Command* command =
      program.app.add_subcommand("breathing", "Breathing rate over windows, as beats and their waves show it");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  command->add_option("--window", flags->window_s, "Length of a window")
      ->check(number_between(shortest_window_s, longest_window_s))
      ->type_name("SECONDS")
      ->capture_default_str();
  command->add_option("--step", flags->step_s, "From the start of one window to the next")
      ->check(number_between(1, longest_window_s))
      ->type_name("SECONDS")
      ->capture_default_str();
  add_output_options(*command, flags->output, "csv");
  end_help(*command, "pulsewright breathing datasets/simulated/heron_rest_ecg.csv --format text");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
