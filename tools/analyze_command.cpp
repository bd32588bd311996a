/// `analyze`: every stage at once.
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/report_options.hpp"
#include "pulsewright/course_line.hpp"
#include "pulsewright/report.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct AnalyzeFlags {
  InputFlags input;
  StageFlags stages;
  OutputFlags output;
  ReportFlags reports;
};

/// A row for each stage: `stage` and the stage's own columns would not fit one table, so CSV of everything is the batch row of one record.
std::string one_row(const Analysis& analysis, const NumberStyle& style) {
  const BatchRow row = batch_row(analysis.beats.provenance.input, analysis);
  return batch_csv({&row, 1}, style);
}

/// The files of --out. Lists are CSV, what is read as a whole is JSON, and the page is text.
void write_files(const OutputFlags& flags, const Analysis& analysis) {
  const std::filesystem::path folder = flags.out;
  const NumberStyle style = number_style(flags);
  write_file(folder / "beats.csv", beats_csv(analysis.beats, {}, style));
  write_file(folder / "intervals.csv", intervals_csv(analysis.intervals, style));
  write_file(folder / "rate.csv", rate_csv(analysis.rates, style));
  write_file(folder / "variability.json", variability_json(analysis.variability));
  write_file(folder / "effort.json", effort_json(analysis.effort));
  write_file(folder / "analysis.json", analysis_json(analysis));
  write_file(folder / "summary.txt", analysis_text(analysis));
}

/// Phases, kinetics and recovery for the reports; nothing when none are asked for or the recording is longer than a session.
std::optional<SessionEffort> course_of(const AnalyzeFlags& flags, const Analysis& analysis) {
  if (!flags.reports.any() || analysis.rates.duration > longest_session) return std::nullopt;
  SessionOptions options;
  options.effort = effort_options(flags.stages.person);
  return study_session(analysis.rates, analysis.effort.person, options);
}

ExitCode run(const AnalyzeFlags& flags) {
  prepare_reports(flags.reports);
  prepare_output(flags.output);
  InputSignals signals;
  const Analysis analysis = flags.reports.any() ? analyze_input(flags.input, flags.stages, signals)
                                                : analyze_input(flags.input, flags.stages);
  talk_warnings(warnings_of(analysis));
  if (!flags.output.out.empty()) write_files(flags.output, analysis);
  const std::optional<SessionEffort> course = course_of(flags, analysis);
  if (signals.recording)
    write_reports(flags.reports, {analysis, &*signals.recording, &signals.chosen}, course ? &*course : nullptr,
                  find_options(flags.input, *signals.recording));
  else
    write_reports(flags.reports, {analysis}, course ? &*course : nullptr, {});
  print(render(flags.output, {[&] { return analysis_text(analysis); },
                              [&](const NumberStyle& style) { return one_row(analysis, style); },
                              [&] { return analysis_json(analysis); },
                              {},
                              [&] { return course_line(analysis.rates); }}));
  if (!flags.output.out.empty())
    tell_files(flags.output, {"beats.csv", "intervals.csv", "rate.csv", "variability.json", "effort.json",
                              "analysis.json", "summary.txt"});
  // The same rule as in a batch, so that a record's row and its own analysis agree.
  return batch_row(analysis.beats.provenance.input, analysis).exit_code == 0 ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_analyze(Program& program) {
  const auto flags = std::make_shared<AnalyzeFlags>();
  Command* command = program.app.add_subcommand("analyze", "All of these at once, from samples to effort");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input);
  add_edit_option(*command, flags->input);
  add_window_options(*command, flags->stages.window);
  add_person_options(*command, flags->stages.person);
  add_output_options(*command, flags->output, "text");
  add_report_options(*command, flags->reports);
  end_help(*command, "pulsewright analyze datasets/simulated/wren_stair_climb.csv --code wren --age 15 --resting 66");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
