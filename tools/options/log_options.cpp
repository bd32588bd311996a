#include "log_options.hpp"

#include "locked_file.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/read.hpp"
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
  static_cast<void>(log_entry(flags.date, "", "", {}));
  static_cast<void>(read_log(flags.log));
}

void keep_log(const LogFlags& flags, const std::vector<LogEntry>& entries) {
  if (flags.log.empty()) return;
  LogUpdate update;
  {
    const LockedFile lock("--log", flags.log);
    update = log_with(bytes_of_file(flags.log), flags.log, entries);
    write_file(flags.log, update.bytes);
  }
  std::string told = "kept in " + flags.log + ": " + std::to_string(entries.size()) +
                     (entries.size() == 1 ? " session, " : " sessions, ") + std::to_string(update.replaced) +
                     " of them there already and replaced";
  if (update.beside_another > 0)
    told += "; " + std::to_string(update.beside_another) +
            " beside another of the same day, code and name, whose recording differs";
  talk_note(told);
}

}  // namespace pulsewright::program
