/// `grade`: a sensor alone.
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/json.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct GradeFlags {
  InputFlags input;
  OutputFlags output;
  std::optional<double> full_scale;
  double highest_bpm = 180, rate_error_bpm = 1, rmssd_ms = 20, rmssd_error_percent = 2;
};

GradeOptions grade_options(const GradeFlags& flags) {
  GradeOptions options;
  options.full_scale = flags.full_scale;
  options.highest = BeatsPerMinute{flags.highest_bpm};
  options.rate_error_bpm = flags.rate_error_bpm;
  options.rmssd_ms = flags.rmssd_ms;
  options.rmssd_error_percent = flags.rmssd_error_percent;
  return options;
}

Json settings_of(const GradeFlags& flags) {
  auto options = settings(flags.input);
  if (flags.full_scale) options["full_scale"] = *flags.full_scale;
  options["highest_bpm"] = flags.highest_bpm;
  options["rate_error_bpm"] = flags.rate_error_bpm;
  options["rmssd_ms"] = flags.rmssd_ms;
  options["rmssd_error_percent"] = flags.rmssd_error_percent;
  return options;
}

ExitCode run(const GradeFlags& flags) {
  prepare_output(flags.output);
  const Recording recording = read_recording(flags.input.input, read_options(flags.input));
  SensorGrade grade = grade_sensor(recording, grade_options(flags));
  grade.provenance.options = settings_text(settings_of(flags));
  talk_warnings(grade.warnings);
  deliver(flags.output, "grade",
          {[&] { return grade_text(grade); }, [&](const NumberStyle& style) { return grade_csv(grade, style); },
           [&] { return grade_json(grade); }});
  for (const ChannelGrade& channel : grade.channels)
    if (channel.range) return ExitCode::done;
  return ExitCode::no_value;
}

}  // namespace

void add_grade(Program& program) {
  const auto flags = std::make_shared<GradeFlags>();
  Command* command = program.app.add_subcommand(
      "grade", "A sensor alone: bits, noise, clock, clipping, hum, light, and what its rate is good for");
  add_reading_options(*command, flags->input);
  command
      ->add_option("--full-scale", flags->full_scale,
                   "Range of the converter in the channel's unit; the range in use unless given")
      ->check(number_above_zero())
      ->type_name("VALUE");
  command->add_option("--highest", flags->highest_bpm, "Highest heart rate that is wanted")
      ->check(number_between(30, 300))
      ->type_name("BPM")
      ->capture_default_str();
  command->add_option("--rate-error", flags->rate_error_bpm, "Error of the heart rate that one sample may make")
      ->check(number_above_zero())
      ->type_name("BPM")
      ->capture_default_str();
  command->add_option("--rmssd", flags->rmssd_ms, "Lowest RMSSD that is still to be measured")
      ->check(number_above_zero())
      ->type_name("MS")
      ->capture_default_str();
  command
      ->add_option("--rmssd-error", flags->rmssd_error_percent,
                   "By how much sampling may make it too large, in per cent")
      ->check(number_above_zero())
      ->type_name("PERCENT")
      ->capture_default_str();
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright grade datasets/simulated/wren_stair_climb.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
