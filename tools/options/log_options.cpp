#include "log_options.hpp"

#include "pulsewright/effort_report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {

void add_log_options(Command& command, LogFlags& flags) {
  Option* log = command
                    .add_option("--log", flags.log,
                                "Keep the session in this log as well, which is made; one that is there already is "
                                "replaced, never counted twice")
                    ->type_name("FILE");
  Option* date = command.add_option("--date", flags.date, "Day of the session, for --log")->type_name("YYYY-MM-DD");
  log->needs(date);
  date->needs(log);
}

void prepare_log(const LogFlags& flags) {
  if (flags.log.empty()) return;
  static_cast<void>(log_entry(flags.date, "", {}));
  static_cast<void>(read_log(flags.log));
}

void keep_log(const LogFlags& flags, const std::vector<LogEntry>& entries) {
  if (flags.log.empty()) return;
  std::vector<LogEntry> log = read_log(flags.log);
  std::size_t replaced = 0;
  for (const LogEntry& entry : entries) replaced += add_to_log(log, entry);
  write_file(flags.log, log_csv(log));
  talk_note("kept in " + flags.log + ": " + std::to_string(entries.size()) +
            (entries.size() == 1 ? " session, " : " sessions, ") + std::to_string(replaced) +
            " of them there already and replaced");
}

}  // namespace pulsewright::program
