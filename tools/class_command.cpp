/// `class`: everybody of a lesson side by side; the log of many lessons; and deleting what is kept of a person.
#include <algorithm>
#include <filesystem>
#include <memory>

#include "class_members.hpp"
#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/log_options.hpp"
#include "options/output_options.hpp"
#include "options/report_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/course_line.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/erase_code.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct ClassFlags {
  std::string sheet, roster, sort = "effort", weekly, forget;
  std::vector<std::string> within;
  bool least_first = false, confirm = false;
  InputFlags input;
  StageFlags stages;
  SessionFlags session;
  LogFlags log;
  OutputFlags output;
  PageFlags page;
};

ExitCode run_weekly(const ClassFlags& flags) {
  if (!std::filesystem::exists(flags.weekly)) throw Error(ErrorCode::unreadable, flags.weekly + ": no such log");
  const std::vector<LogWeek> weeks = weeks_of(read_log(flags.weekly));
  Provenance provenance;
  provenance.input = std::filesystem::path(flags.weekly).filename().string();
  provenance.format = "log";
  provenance.sha256 = sha256_of_file(flags.weekly);
  provenance.version = version();
  deliver(flags.output, "weeks",
          {[&] { return weeks_text(weeks); }, [&](const NumberStyle& style) { return weeks_csv(weeks, style); },
           [&] { return weeks_json(weeks, provenance); }});
  return weeks.empty() ? ExitCode::no_value : ExitCode::done;
}

ExitCode run_forget(const ClassFlags& flags) {
  if (flags.within.empty())
    throw Error(ErrorCode::usage, "--forget needs --within: the files and folders to look through");
  const ErasePlan plan = plan_erasure(flags.forget, {flags.within.begin(), flags.within.end()});
  std::string told;
  for (const auto& file : plan.files) told += "delete " + file.string() + "\n";
  for (const RewrittenFile& file : plan.rewritten)
    told += "take " + std::to_string(file.rows) + (file.rows == 1 ? " entry" : " entries") + " out of " +
            file.path.string() + "\n";
  for (const std::string& left : plan.left) told += "left: " + left + "\n";
  if (told.empty()) told = "nothing is kept of " + flags.forget + " there\n";
  if (flags.confirm) erase(plan);
  print(told);
  if (plan.empty()) return ExitCode::no_value;
  talk_note(flags.confirm ? "done" : "nothing was touched; add --confirm to do this");
  return ExitCode::done;
}

ExitCode run_class(const ClassFlags& flags) {
  if (flags.sheet.empty()) throw Error(ErrorCode::usage, "class needs SHEET; see pulsewright class --help");
  if (flags.roster.empty()) throw Error(ErrorCode::usage, "class needs --roster: what is known of each code");
  prepare_log(flags.log);
  const Roster roster = read_roster(flags.roster);
  const SessionSheet sheet = read_session_sheet(flags.sheet);
  const ClassMeasure measure = class_measure_of(flags.sort).value_or(ClassMeasure::effort);
  if (measure == ClassMeasure::performance && sheet.performance.name.empty())
    throw Error(ErrorCode::usage,
                "--sort performance: the sheet has no column laps, distance_m, score, place or time_s");
  Warnings warnings = roster.warnings;
  warnings.insert(warnings.end(), sheet.warnings.begin(), sheet.warnings.end());
  std::vector<ClassMember> members = class_members(sheet, roster, flags.input, flags.stages, flags.session, warnings);
  ClassComparison comparison = compare_class(std::move(members), sheet.performance, {measure, flags.least_first});
  comparison.provenance = sheet.provenance;
  Json options = joined(
      {settings(flags.input), settings(flags.stages.window), settings(flags.stages.person), settings(flags.session)});
  options["roster_sha256"] = roster.provenance.sha256;
  comparison.provenance.options = settings_text(options);
  comparison.warnings = warnings;
  talk_warnings(warnings);
  deliver(flags.output, "class",
          {[&] { return class_text(comparison); },
           [&](const NumberStyle& style) { return class_csv(comparison, style); },
           [&] { return class_json(comparison); },
           {},
           [&] { return course_lines(comparison); }});
  write_page(flags.page, [&](Language language) { return class_report(comparison, language); });
  bool all = true;
  std::vector<LogEntry> entries;
  for (const ClassMember& member : comparison.members) {
    if (!member.failure.empty()) talk_warnings({{"session_failed", member.entry.code + ": " + member.failure}});
    all = all && member.session && member.session->effort.mean_rate;
    if (!member.session || flags.log.log.empty()) continue;
    // The stretch is part of the name, so that two of one file are two sessions.
    const SheetEntry& entry = member.entry;
    const std::string from = entry.from ? "@" + format_number(entry.from->value(), 0) : "";
    entries.push_back(log_entry(flags.log.date, entry.file_name + from, *member.session));
  }
  if (!entries.empty()) keep_log(flags.log, entries);
  return all && !comparison.members.empty() ? ExitCode::done : ExitCode::no_value;
}

ExitCode run(const ClassFlags& flags) {
  const int forms = !flags.sheet.empty() + !flags.weekly.empty() + !flags.forget.empty();
  if (forms > 1) throw Error(ErrorCode::usage, "SHEET, --weekly and --forget are three forms of class: give one");
  if (!flags.forget.empty()) return run_forget(flags);
  if (!flags.weekly.empty() && !flags.page.report.empty())
    throw Error(ErrorCode::usage, "--report shows the class of a SHEET; --weekly has none");
  prepare_output(flags.output);
  prepare_page(flags.page);
  return flags.weekly.empty() ? run_class(flags) : run_weekly(flags);
}

}  // namespace

void add_class(Program& program) {
  const auto flags = std::make_shared<ClassFlags>();
  Command* command = program.app.add_subcommand(
      "class", "A whole class side by side, each on their own reserve; its log; forgetting a person");
  command
      ->add_option("SHEET", flags->sheet,
                   "Session sheet: a table code,file and perhaps channel, from, to, file_begins, activity, exertion, "
                   "marks, laps")
      ->type_name("");
  command
      ->add_option(
          "--roster", flags->roster,
          "What is known of each code: a table code,age_years,sex,resting_bpm,maximum_bpm,ceiling_bpm,exercise")
      ->type_name("FILE");
  command->add_option("--sort", flags->sort, "What to sort and place by")
      ->check(one_of({"code", "effort", "target", "moderate", "load", "peak", "recovery", "performance"}))
      ->type_name("code|effort|target|moderate|load|peak|recovery|performance")
      ->capture_default_str();
  command->add_flag("--least-first", flags->least_first, "Sort the other way");
  add_rate_option(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_window_options(*command, flags->stages.window);
  add_target_options(*command, flags->stages.person);
  add_study_options(*command, flags->session);
  add_log_options(*command, flags->log);
  command->add_option("--weekly", flags->weekly, "Instead of a sheet: sum up this log week by week")->type_name("LOG");
  Option* forget = command
                       ->add_option("--forget", flags->forget,
                                    "Instead of a sheet: say what is kept of this code, and with --confirm delete it")
                       ->type_name("CODE");
  command->add_option("--within", flags->within, "Files and folders that --forget looks through")
      ->type_name("PATH")
      ->needs(forget);
  command->add_flag("--confirm", flags->confirm, "Delete what --forget finds; there is no way back")->needs(forget);
  add_page_options(*command, flags->page);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright class datasets/simulated/club_sheet.csv --roster datasets/simulated/club_roster.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
