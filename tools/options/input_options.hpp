/// Options that say what to read: the file, its channels, its time base. Raw flags here, apart from what they resolve to.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command_line.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright::program {

/// As given on the command line.
struct InputFlags {
  std::string input;
  std::optional<double> rate, start, end;
  std::vector<std::string> channels;
  std::string kind = "auto";
  std::vector<std::string> motion;
  bool streaming = false;
  std::string form = "recording";
  std::string unit = "ms";
  std::optional<double> reference_rate;
  std::string edits;  ///< file of a reviewer's edits
};

/// INPUT, --start, --end, --rate.
void add_reading_options(Command& command, InputFlags& flags);
/// --rate.
void add_rate_option(Command& command, InputFlags& flags);
/// --rate, --start, --end alone, for commands that name their inputs in their own way.
void add_time_options(Command& command, InputFlags& flags);
/// --channel, --kind, --motion, --streaming.
void add_channel_options(Command& command, InputFlags& flags);
/// --input, --unit, --reference-rate. `takes_rates`: --input may be `rates`, which the command reads itself.
void add_form_options(Command& command, InputFlags& flags, bool takes_rates = false);
/// --edits.
void add_edit_option(Command& command, InputFlags& flags);

/// What the flags ask of the input; rates, people and targets are left as they usually are.
[[nodiscard]] Request request_of(const InputFlags& flags);
/// How the flags ask a recording to be read.
[[nodiscard]] ReadOptions read_options(const InputFlags& flags);
/// Which channels to find beats in, and how. Throws Error{usage} for names that are not there, or not of the asked kind.
[[nodiscard]] FindOptions find_options(const InputFlags& flags, const Recording& recording);
/// The motion channels that the flags choose; nothing for all of them. Throws Error{usage} for a channel of another kind.
[[nodiscard]] std::optional<std::vector<std::size_t>> motion_channels(const InputFlags& flags,
                                                                      const Recording& recording);
/// The beats with the edits of `--edits` applied, where it is given.
[[nodiscard]] BeatTrain reviewed(BeatTrain beats, const InputFlags& flags);
/// Reads the input in whatever form it is, and finds its beats and follows its rate where it is a recording.
[[nodiscard]] InputBeats beats_and_track_of(const InputFlags& flags);
/// Reads the input in whatever form it is, finds its beats where it is a recording, and tells the clock.
[[nodiscard]] InputBeats beats_and_clock_of(const InputFlags& flags);
/// Reads the input in whatever form it is, and finds its beats where it is a recording.
[[nodiscard]] BeatTrain beats_of(const InputFlags& flags);
/// The flags that differ from their defaults, under their names without dashes.
[[nodiscard]] Json settings(const InputFlags& flags);
/// Settings as provenance keeps them; bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string settings_text(const Json& settings);

}  // namespace pulsewright::program
