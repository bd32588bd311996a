/// A log over many sessions: how often, how hard, how long, and what (frequency, intensity, time, type).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/session.hpp"
#include "pulsewright/table.hpp"

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
  std::string content;  ///< the first 12 digits of the SHA-256 of what it was taken from; empty when not known

  /// Whether both are the same session: of one date, code and name, and not of different content.
  [[nodiscard]] bool is_same_session(const LogEntry& other) const;
};

/// The entry of a session, whose texts are made fit for a cell (UTF-8, no blanks at the ends).
/// `sha256` is that of the recording. Throws Error{usage} for a date that is none.
[[nodiscard]] LogEntry log_entry(const std::string& date, const std::string& session_name, const std::string& sha256,
                                 const SessionEffort& session);

/// Reads a log; a file that does not exist, or is empty, is an empty one. Throws Error{unreadable} by line.
[[nodiscard]] std::vector<LogEntry> read_log(const std::filesystem::path& path);
/// The same from a table. Throws Error{unreadable} by line.
[[nodiscard]] std::vector<LogEntry> log_of(const Table& table);

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
