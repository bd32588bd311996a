/// A log over many sessions: how often, how hard, how long, and what (frequency, intensity, time, type).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {

/// One session of one person.
struct LogEntry {
  std::string date;  ///< `yyyy-mm-dd`
  std::string code;
  std::string session;  ///< what it was taken from, so that the same session is not counted twice
  std::string activity;
  double minutes = 0;
  double measured_minutes = 0;
  std::optional<double> mean_reserve_percent, in_target_minutes, moderate_minutes;
  std::optional<double> impulse_men, impulse_women, weighted_minutes;
  std::optional<int> exertion;
};

/// The entry of a session. Throws Error{usage} for a date that is none.
[[nodiscard]] LogEntry log_entry(const std::string& date, const std::string& session_name,
                                 const SessionEffort& session);

/// Reads a log; a file that does not exist is an empty one. Throws Error{unreadable} by line.
[[nodiscard]] std::vector<LogEntry> read_log(const std::filesystem::path& path);

/// Adds an entry, in place of one of the same date, code and session; then sorts by date, code and session. Returns whether one was replaced.
bool add_to_log(std::vector<LogEntry>& log, const LogEntry& entry);

/// One person's week, Monday to Sunday.
struct LogWeek {
  std::string monday;  ///< `yyyy-mm-dd`
  std::string code;
  int sessions = 0;                            ///< frequency
  std::optional<double> mean_reserve_percent;  ///< intensity, weighted by measured time
  double minutes = 0;                          ///< time
  std::string activities;                      ///< type: each once, in order of first appearance, joined by `, `
  std::optional<double> moderate_minutes, weighted_minutes;
  /// Change of minutes and of weighted minutes from the week before, in per cent; nothing in the first week or after a week without them.
  std::optional<double> minutes_change_percent, weighted_change_percent;
};

/// Every week from each person's first to last, weeks without a session included; by code, then week.
[[nodiscard]] std::vector<LogWeek> weeks_of(const std::vector<LogEntry>& log);

}  // namespace pulsewright
