#include "input_options.hpp"

#include <algorithm>
#include <map>

#include "pulsewright/error.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

const std::map<std::string, KindChoice> kinds{
    {"auto", KindChoice::automatic}, {"ecg", KindChoice::ecg}, {"pulse", KindChoice::pulse}};

std::optional<Seconds> as_seconds(const std::optional<double>& value) {
  return value ? std::optional<Seconds>(Seconds{*value}) : std::nullopt;
}

std::optional<Hertz> as_hertz(const std::optional<double>& value) {
  return value ? std::optional<Hertz>(Hertz{*value}) : std::nullopt;
}

/// The beats of a list inside [start, end); the time before `start` was not looked at.
void keep_stretch(BeatTrain& beats, std::optional<Seconds> start, std::optional<Seconds> end) {
  if (!start && !end) return;
  const Span kept{start.value_or(Seconds{0}), end ? std::min(*end, beats.duration) : beats.duration};
  if (!(kept.start < kept.end))
    throw Error(ErrorCode::usage, "--start and --end leave nothing of " + beats.provenance.input);
  std::erase_if(beats.candidates, [kept](const Beat& beat) { return beat.time < kept.start || kept.end < beat.time; });
  if (Seconds{0} < kept.start) beats.unreadable.insert(beats.unreadable.begin(), Span{Seconds{0}, kept.start});
  beats.duration = kept.end;
}

}  // namespace

void add_time_options(CLI::App& command, InputFlags& flags) {
  command.add_option("--rate", flags.rate, "Sampling rate of data without a time base")
      ->check(number_above_zero())
      ->type_name("HZ");
  command
      .add_option("--start", flags.start,
                  "Leave out what comes before; printed times still count from the start of the recording")
      ->check(number_from_zero())
      ->type_name("SECONDS");
  command.add_option("--end", flags.end, "Leave out what comes after")
      ->check(number_above_zero())
      ->type_name("SECONDS");
}

void add_reading_options(CLI::App& command, InputFlags& flags) {
  command
      .add_option("INPUT", flags.input,
                  "Recording: a file, an open record by its path without suffix, or - for text on standard input")
      ->required()
      ->type_name("");
  add_time_options(command, flags);
}

void add_channel_options(CLI::App& command, InputFlags& flags) {
  command
      .add_option("--channel", flags.channels,
                  "Name, or position from 1 (#2 where a name is a number); may be given several times")
      ->type_name("NAME")
      ->allow_extra_args(false);
  command
      .add_option("--kind", flags.kind, "Wave to find beats in: every channel of that kind, unless --channel is given")
      ->check(one_of({"auto", "ecg", "pulse"}))
      ->type_name("auto|ecg|pulse")
      ->capture_default_str();
  command
      .add_option(
          "--motion", flags.motion,
          "Acceleration and gyro channels that heart rate from a pulse is cleared of: auto (all), none, or names")
      ->type_name("auto|none|NAME")
      ->allow_extra_args(false)
      ->delimiter(',');
  command.add_flag("--streaming", flags.streaming, "The causal form, as a live display would see it");
}

void add_form_options(CLI::App& command, InputFlags& flags) {
  command.add_option("--input", flags.form, "What INPUT holds: a recording, a bare list of intervals, or beat times")
      ->check(one_of({"recording", "intervals", "beats"}))
      ->type_name("recording|intervals|beats")
      ->capture_default_str();
  command.add_option("--unit", flags.unit, "Unit of a list of intervals")
      ->check(one_of({"ms", "s"}))
      ->type_name("ms|s")
      ->capture_default_str();
  command
      .add_option("--reference-rate", flags.reference_rate,
                  "Sampling rate of beats that are listed as sample numbers from 0")
      ->check(number_above_zero())
      ->type_name("HZ");
}

ReadOptions read_options(const InputFlags& flags) {
  ReadOptions options;
  options.rate = as_hertz(flags.rate);
  options.start = as_seconds(flags.start);
  options.end = as_seconds(flags.end);
  return options;
}

FindOptions find_options(const InputFlags& flags, const Recording& recording) {
  FindOptions options;
  options.kind = kinds.at(flags.kind);
  options.streaming = flags.streaming;
  for (const std::string& selector : flags.channels) {
    const std::size_t position = find_channel(recording, selector);
    if (std::find(options.channels.begin(), options.channels.end(), position) == options.channels.end())
      options.channels.push_back(position);
  }
  static_cast<void>(motion_channels(flags, recording));  // wrong names are refused whatever needs them
  return options;
}

std::optional<std::vector<std::size_t>> motion_channels(const InputFlags& flags, const Recording& recording) {
  if (flags.motion.empty() || flags.motion == std::vector<std::string>{"auto"}) return std::nullopt;
  std::vector<std::size_t> positions;
  if (flags.motion == std::vector<std::string>{"none"}) return positions;
  for (const std::string& name : flags.motion) {
    const std::size_t position = find_channel(recording, name);
    const Channel& channel = recording.channels[position];
    if (channel.kind != ChannelKind::acceleration && channel.kind != ChannelKind::gyro)
      throw Error(ErrorCode::usage, "--motion: '" + channel.name + "' is a channel of kind " + to_string(channel.kind) +
                                        "; motion channels are of kind acceleration or gyro");
    positions.push_back(position);
  }
  return positions;
}

namespace {

/// Runs what reads a recording; what the reader noticed may be why it fails: without a result to carry them, its warnings go with the refusal.
template <typename Work>
auto with_warnings(const Recording& recording, const Work& work) {
  try {
    return work();
  } catch (const Error& error) {
    std::string message = error.what();
    for (const Warning& warning : recording.warnings) message += "; " + warning.message + " [" + warning.code + "]";
    throw Error(error.code(), message);
  }
}

BeatTrain listed_beats(const InputFlags& flags) {
  BeatTrain beats;
  if (flags.form == "intervals")
    beats = read_intervals(flags.input, flags.unit == "s" ? IntervalUnit::seconds : IntervalUnit::milliseconds);
  else
    beats = read_beats(flags.input, as_hertz(flags.reference_rate)).beats;
  keep_stretch(beats, as_seconds(flags.start), as_seconds(flags.end));
  return beats;
}

}  // namespace

InputBeats beats_and_track_of(const InputFlags& flags) {
  if (flags.form != "recording") return {listed_beats(flags), std::nullopt};
  const Recording recording = read_recording(flags.input, read_options(flags));
  return with_warnings(recording, [&] {
    AnalyzeOptions options;
    options.find = find_options(flags, recording);
    options.motion = motion_channels(flags, recording);
    InputBeats found{find_beats(recording, options.find), std::nullopt};
    found.track = track_beside(found.beats, recording, options);
    return found;
  });
}

BeatTrain beats_of(const InputFlags& flags) {
  if (flags.form != "recording") return listed_beats(flags);
  const Recording recording = read_recording(flags.input, read_options(flags));
  return with_warnings(recording, [&] { return find_beats(recording, find_options(flags, recording)); });
}

nlohmann::ordered_json settings(const InputFlags& flags) {
  auto options = nlohmann::ordered_json::object();
  const auto note = [&options](const char* key, const std::optional<double>& value) {
    if (value) options[key] = *value;
  };
  note("rate_hz", flags.rate);
  note("start_s", flags.start);
  note("end_s", flags.end);
  if (!flags.channels.empty()) options["channels"] = flags.channels;
  if (flags.kind != "auto") options["kind"] = flags.kind;
  if (!flags.motion.empty() && flags.motion != std::vector<std::string>{"auto"}) options["motion"] = flags.motion;
  if (flags.streaming) options["streaming"] = true;
  if (flags.form != "recording") options["input"] = flags.form;
  if (flags.form == "intervals") options["unit"] = flags.unit;
  note("reference_rate_hz", flags.reference_rate);
  return options;
}

}  // namespace pulsewright::program
