/// `rate`: heart rate over windows.
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/course_line.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct RateFlags {
  InputFlags input;
  WindowFlags window;
  OutputFlags output;
};

ExitCode run(const RateFlags& flags) {
  prepare_output(flags.output);
  Warnings of_beats;
  const RateSeries rates = stamped_rates(flags.input, flags.window, of_beats);
  talk_warnings(of_beats);
  talk_warnings(rates.warnings);
  deliver(flags.output, "rate",
          {[&] { return rate_text(rates); },
           [&](const NumberStyle& style) { return rate_csv(rates, style); },
           [&] { return rate_json(rates); },
           {},
           [&] { return course_line(rates); }});
  const bool any = std::any_of(rates.windows.begin(), rates.windows.end(),
                               [](const RateWindow& window) { return window.rate.has_value(); });
  return any ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_rate(Program& program) {
  const auto flags = std::make_shared<RateFlags>();
  Command* command = program.app.add_subcommand("rate", "Heart rate over windows, with its 95 % interval");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  add_window_options(*command, flags->window);
  add_output_options(*command, flags->output, "csv");
  end_help(*command, "pulsewright rate datasets/simulated/wren_stair_climb.csv --format text");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
