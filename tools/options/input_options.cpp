#include "input_options.hpp"

#include <map>
#include <utility>

#include "pulsewright/beat_edits.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

const std::map<std::string, KindChoice> kinds{
    {"auto", KindChoice::automatic}, {"ecg", KindChoice::ecg}, {"pulse", KindChoice::pulse}};

const std::map<std::string, InputForm> forms{
    {"recording", InputForm::recording}, {"intervals", InputForm::intervals}, {"beats", InputForm::beats}};

std::optional<Seconds> as_seconds(const std::optional<double>& value) {
  return value ? std::optional<Seconds>(Seconds{*value}) : std::nullopt;
}

std::optional<Hertz> as_hertz(const std::optional<double>& value) {
  return value ? std::optional<Hertz>(Hertz{*value}) : std::nullopt;
}

}  // namespace

void add_rate_option(Command& command, InputFlags& flags) {
  command.add_option("--rate", flags.rate, "Sampling rate of data without a time base")
      ->check(number_above_zero())
      ->type_name("HZ");
}

void add_time_options(Command& command, InputFlags& flags) {
  add_rate_option(command, flags);
  command
      .add_option("--start", flags.start,
                  "Leave out what comes before; printed times still count from the start of the recording")
      ->check(number_from_zero())
      ->type_name("SECONDS");
  command.add_option("--end", flags.end, "Leave out what comes after")
      ->check(number_above_zero())
      ->type_name("SECONDS");
}

void add_reading_options(Command& command, InputFlags& flags) {
  command
      .add_option("INPUT", flags.input,
                  "Recording: a file, an open record by its path without suffix, or - for text on standard input")
      ->required()
      ->type_name("");
  add_time_options(command, flags);
}

void add_channel_options(Command& command, InputFlags& flags) {
  command
      .add_option("--channel", flags.channels,
                  "Name, or position from 1 (#2 where a name is a number); may be given several times")
      ->type_name("NAME")
      ->one_value_each();
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
      ->one_value_each()
      ->delimiter(',');
  command.add_flag("--streaming", flags.streaming, "The causal form, as a live display would see it");
}

void add_form_options(Command& command, InputFlags& flags, bool takes_rates) {
  const std::string description = "What INPUT holds: a recording, a bare list of intervals, or beat times";
  command
      .add_option("--input", flags.form,
                  takes_rates ? description + "; or heart rates of any device, time_s and bpm" : description)
      ->check(takes_rates ? one_of({"recording", "intervals", "beats", "rates"})
                          : one_of({"recording", "intervals", "beats"}))
      ->type_name(takes_rates ? "recording|intervals|beats|rates" : "recording|intervals|beats")
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

void add_edit_option(Command& command, InputFlags& flags) {
  command
      .add_option("--edits", flags.edits,
                  "File of a reviewer's edits (add, remove, move, relabel), applied on top of the beats")
      ->type_name("FILE");
}

Request request_of(const InputFlags& flags) {
  Request request;
  request.input = flags.input;
  request.read = read_options(flags);
  request.channels = flags.channels;
  request.kind = kinds.at(flags.kind);
  if (flags.motion == std::vector<std::string>{"none"})
    request.motion.emplace();
  else if (!flags.motion.empty() && flags.motion != std::vector<std::string>{"auto"})
    request.motion = flags.motion;
  request.streaming = flags.streaming;
  request.form = forms.at(flags.form);
  request.unit = flags.unit == "s" ? IntervalUnit::seconds : IntervalUnit::milliseconds;
  request.reference_rate = as_hertz(flags.reference_rate);
  return request;
}

ReadOptions read_options(const InputFlags& flags) {
  ReadOptions options;
  options.rate = as_hertz(flags.rate);
  options.start = as_seconds(flags.start);
  options.end = as_seconds(flags.end);
  return options;
}

FindOptions find_options(const InputFlags& flags, const Recording& recording) {
  return find_options(request_of(flags), recording);
}

std::optional<std::vector<std::size_t>> motion_channels(const InputFlags& flags, const Recording& recording) {
  return motion_channels(request_of(flags), recording);
}

BeatTrain reviewed(BeatTrain beats, const InputFlags& flags) {
  if (flags.edits.empty()) return beats;
  const std::vector<BeatEdit> edits = read_beat_edits(flags.edits);
  try {
    return apply_beat_edits(std::move(beats), edits);
  } catch (const Error& error) {
    throw Error(error.code(), "--edits " + flags.edits + ": " + error.what());
  }
}

InputBeats beats_and_track_of(const InputFlags& flags) {
  InputBeats found = beats_and_track_of(request_of(flags));
  found.beats = reviewed(std::move(found.beats), flags);
  return found;
}

InputBeats beats_and_clock_of(const InputFlags& flags) {
  InputBeats found = beats_and_clock_of(request_of(flags));
  found.beats = reviewed(std::move(found.beats), flags);
  return found;
}

BeatTrain beats_of(const InputFlags& flags) { return beats_and_clock_of(flags).beats; }

namespace {

Json edit_settings(const BeatEdit& edit) {
  Json row = {{"action", to_string(edit.action)}, {"time_s", edit.time.value()}};
  if (edit.to) row["to_s"] = edit.to->value();
  if (edit.label != BeatLabel::unlabelled) row["label"] = to_string(edit.label);
  row["author"] = edit.author;
  row["made_at"] = edit.made_at;
  row["reason"] = edit.reason;
  return row;
}

}  // namespace

Json settings(const InputFlags& flags) {
  auto options = Json::object();
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
  if (!flags.edits.empty()) {
    options["edits"] = Json::array();
    for (const BeatEdit& edit : read_beat_edits(flags.edits)) options["edits"].push_back(edit_settings(edit));
  }
  return options;
}

std::string settings_text(const Json& settings) { return settings.dump(); }

}  // namespace pulsewright::program
