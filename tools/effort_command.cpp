/// `effort`: how hard the heart worked, against what is known of the person.
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/log_options.hpp"
#include "options/output_options.hpp"
#include "options/session_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/course_line.hpp"
#include "pulsewright/effort_report.hpp"
#include "records/session_rates.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct EffortFlags {
  InputFlags input;
  StageFlags stages;
  SessionFlags session;
  LogFlags log;
  OutputFlags output;
  std::string roster;
  std::string table = "summary";
};

/// Heart rates of the input, whatever form it has, with warnings of the stages before.
RateSeries rates_of(const EffortFlags& flags, Warnings& of_beats) {
  const InputFlags& input = flags.input;
  if (input.form != "rates") return stamped_rates(input, flags.stages.window, of_beats);
  RateSeries rates = session_rates(input.input, input.channels.empty() ? std::string{} : input.channels.front());
  if (!input.start && !input.end) return rates;
  const auto seconds = [](const std::optional<double>& s) { return s ? std::optional(Seconds{*s}) : std::nullopt; };
  return rates_between(rates, seconds(input.start), seconds(input.end));
}

/// The flags' person, or that of the roster with the code.
Person person_of(const EffortFlags& flags, Warnings& warnings) {
  const PersonFlags& stated = flags.stages.person;
  if (flags.roster.empty()) return program::person_of(stated);
  if (stated.code.empty()) throw Error(ErrorCode::usage, "--roster needs --code: whose session is it?");
  const Roster roster = read_roster(flags.roster);
  warnings.insert(warnings.end(), roster.warnings.begin(), roster.warnings.end());
  const Person* person = roster.find(stated.code);
  if (person == nullptr)
    throw Error(ErrorCode::usage, "--code: " + flags.roster + " has nobody called '" + stated.code + "'");
  return *person;
}

void add_marker(const EffortFlags& flags, SessionOptions& options) {
  if (flags.session.marker.empty()) return;
  if (flags.input.form != "recording") throw Error(ErrorCode::usage, "--marker names a channel, and needs a recording");
  const Recording recording = read_recording(flags.input.input, read_options(flags.input));
  options.marks = marks_of_channel(recording.channels[find_channel(recording, flags.session.marker)]);
}

ExitCode run(const EffortFlags& flags) {
  prepare_output(flags.output);
  prepare_log(flags.log);
  Warnings warnings = person_warnings(flags.stages.person);
  const Person person = person_of(flags, warnings);
  SessionOptions options = session_options(flags.session, effort_options(flags.stages.person));
  RateSeries rates = rates_of(flags, warnings);
  add_marker(flags, options);
  rates.provenance.options = settings_text(joined(
      {settings(flags.input), settings(flags.stages.window), settings(flags.stages.person), settings(flags.session)}));
  SessionEffort session = study_session(rates, person, options);
  session.effort.warnings.insert(session.effort.warnings.end(), warnings.begin(), warnings.end());
  talk_warnings(session.effort.warnings);
  talk_warnings(session.prompts);
  deliver(flags.output, "effort",
          {[&] { return session_text(session); },
           [&](const NumberStyle& style) {
             if (flags.table == "phases") return phases_csv(session, style);
             if (flags.table == "course") return course_csv(session, style);
             return session_csv(session, style);
           },
           [&] { return session_json(session); },
           {},
           [&] { return course_line(rates); }});
  if (!flags.log.log.empty()) keep_log(flags.log, {log_entry(flags.log.date, rates.provenance.input, session)});
  return session.effort.mean_rate ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_effort(Program& program) {
  const auto flags = std::make_shared<EffortFlags>();
  Command* command = program.app.add_subcommand(
      "effort", "How hard the heart worked: time at each intensity and in the target, phases, recovery, load");
  add_reading_options(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_form_options(*command, flags->input, true);
  add_edit_option(*command, flags->input);
  add_window_options(*command, flags->stages.window);
  add_person_options(*command, flags->stages.person);
  command->add_option("--roster", flags->roster, "Take what is known of the person from this roster, by --code")
      ->type_name("FILE");
  add_study_options(*command, flags->session);
  add_session_options(*command, flags->session);
  add_log_options(*command, flags->log);
  command
      ->add_option("--table", flags->table,
                   "Which rows --format csv gives: one for the session, its phases, or its course")
      ->check(one_of({"summary", "phases", "course"}))
      ->type_name("summary|phases|course")
      ->capture_default_str();
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright effort datasets/simulated/wren_stair_climb.csv --code wren --age 15 --resting 66");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
