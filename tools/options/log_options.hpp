/// Options of a log over many sessions.
#pragma once

#include <string>
#include <vector>

#include "command_line.hpp"
#include "pulsewright/training_log.hpp"

namespace pulsewright::program {

struct LogFlags {
  std::string log, date;
};

/// --log, --date.
void add_log_options(Command& command, LogFlags& flags);
/// To be called before long work: throws for a date that is none (Error{usage}) and for a file that is there and is no log (Error{unreadable}).
void prepare_log(const LogFlags& flags);
/// Adds entries to the file of --log, which appears complete or not at all, and tells how many were there before.
void keep_log(const LogFlags& flags, const std::vector<LogEntry>& entries);

}  // namespace pulsewright::program
