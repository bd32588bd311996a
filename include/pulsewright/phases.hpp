/// The phases of a session: rest, warm-up, work bouts, pauses, cool-down.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/effort.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

enum class PhaseKind { rest, warm_up, work, pause, cool_down };

[[nodiscard]] const char* to_string(PhaseKind kind);  ///< `rest`, `warm_up`, `work`, `pause`, `cool_down`
[[nodiscard]] std::optional<PhaseKind> phase_kind_of(const std::string& word);

/// One phase. All of a session's phases tile its duration.
struct Phase {
  PhaseKind kind = PhaseKind::rest;
  bool marked = false;          ///< somebody set its ends
  std::string name;             ///< as marked, where that is none of the five words
  std::optional<int> exertion;  ///< perceived, as noted for it (6 to 20)
  std::int64_t start_us = 0;
  std::int64_t length_us = 0;
  std::int64_t unmeasured_us = 0;
  std::optional<BeatsPerMinute> mean_rate;
  std::optional<BeatsPerMinute> peak_rate;  ///< highest cell
  /// Where the rate was heading: the level of the exponential through it. Nothing when hardly anything was measured.
  std::optional<BeatsPerMinute> settling_rate;

  [[nodiscard]] Span span() const;
};

/// A point at which somebody or something marked a new phase.
struct PhaseMark {
  Seconds time;
  std::optional<PhaseKind> kind;  ///< nothing: told from the rate
  std::string name;
  std::optional<int> exertion = std::nullopt;  ///< perceived exertion of the phase, 6 to 20
};

struct PhaseOptions {
  /// No phase found from the rate is shorter (ours): five windows of eight seconds hardly show a course of their own in less.
  Seconds shortest{20.0};
};

/// Phases found from the rate itself, or between marks.
///
/// Between two changes of demand a heart rate follows an exponential about a level that may drift. So a session is cut where fitting each piece with
/// level + slope t + size e^(-t/tau) pays for one more piece: pieces and cuts minimise the sum over pieces of squared residuals plus a price per piece,
/// exactly, over cuts a few seconds apart (dynamic programme), which are then moved to the best cell.
/// The price is Schwarz's: (parameters of a piece and its cut: 5) x ln(independent values) x variance, in cells as correlated as their windows
/// overlap, the variance being that of second differences of windows that do not overlap, by their median, and at least (1 beat/min)^2.
///
/// A piece is work when where it heads lies in the upper 30 % between rest and the highest of the session, or at 60 % of reserve or more; the others are
/// rest when in the lowest 20 %, else warm-up before the first work, pause between, cool-down after the last. Where nothing rises
/// 20 beats/min above rest, all is rest. Neighbours of one kind are one phase, work bouts when they head within 10 % of that range.
/// Rest means the resting rate where it is known, else the lowest level, at most 80 beats/min.
///
/// With marks, phases run from mark to mark (and before the first), and only kinds that are not given are told from the rate.
/// No cells: no phases. Nothing measured: one phase of rest, unmeasured.
[[nodiscard]] std::vector<Phase> find_phases(std::span<const EffortCell> cells, Seconds window,
                                             std::optional<BeatsPerMinute> resting,
                                             std::optional<BeatsPerMinute> maximum, std::span<const PhaseMark> marks,
                                             const PhaseOptions& options = {});

/// Reads marks: a CSV table with `start_s` (or `time_s`), `phase`: one of the five words, or any name (told from the rate), and perhaps `exertion`.
/// Throws Error{unreadable} by line; marks must rise in time.
[[nodiscard]] std::vector<PhaseMark> read_marks(const std::filesystem::path& path);

/// Marks from a channel: one wherever its value steps to another and keeps it for at least `shortest`; the name is the value. The first is at the start.
[[nodiscard]] std::vector<PhaseMark> marks_of_channel(const Channel& channel, Seconds shortest = Seconds{1.0});

}  // namespace pulsewright
