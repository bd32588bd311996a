/// `live`: beats and rate while the sensor is on the finger.
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "live/live_run.hpp"
#include "live/terminal_view.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/person_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/condition.hpp"
#include "pulsewright/roster.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

struct LiveFlags {
  std::vector<std::string> inputs;
  std::string kind = "pulse", wire = "auto", column, format = "auto", roster, record, replay, lesson;
  double count_over = 15;
  std::optional<double> serve;
  std::string serve_at, language = "en";
  std::vector<std::string> leave_out;
  std::optional<double> rate, length, quiet;
  double baud = 115200;
  PersonFlags person;
};

/// `CODE=PATH`, or a path alone.
struct NamedInput {
  std::string code, path;
};

bool is_code(const std::string& text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
  });
}

std::vector<NamedInput> named_inputs(const LiveFlags& flags) {
  std::vector<NamedInput> named;
  for (const std::string& input : flags.inputs) {
    const std::size_t equals = input.find('=');
    const std::string code = equals == std::string::npos ? "" : input.substr(0, equals);
    NamedInput one = is_code(code) ? NamedInput{code, input.substr(equals + 1)} : NamedInput{"", input};
    if (one.code.empty() && flags.inputs.size() == 1) one.code = flags.person.code;
    if (one.code.empty()) one.code = "sensor" + std::to_string(named.size() + 1);
    if (one.path.empty()) throw Error(ErrorCode::usage, input + ": a code needs a path after '='");
    for (const NamedInput& other : named) {
      if (other.code == one.code) throw Error(ErrorCode::usage, "two inputs are called '" + one.code + "'");
      if (other.path == one.path)
        throw Error(ErrorCode::usage, one.path + ": is named twice; one sensor is one person's");
    }
    if (!is_code(one.code))
      throw Error(ErrorCode::usage, "the code '" + one.code + "' may hold letters, digits, '-' and '_' only");
    named.push_back(std::move(one));
  }
  return named;
}

WireForm wire_form(const std::string& word) {
  if (word == "lines") return WireForm::lines;
  if (word == "frames") return WireForm::frames;
  return word == "packets" ? WireForm::packets : WireForm::automatic;
}

LiveStanding standing_of(const LiveFlags& flags, const std::optional<Roster>& roster, const std::string& code) {
  const EffortOptions options = effort_options(flags.person);
  if (!roster) {
    Person person = person_of(flags.person);
    person.code = code;
    return LiveStanding{person, options};
  }
  const Person* person = roster->find(code);
  if (person == nullptr) throw Error(ErrorCode::usage, flags.roster + " has nobody called '" + code + "'");
  return LiveStanding{*person, options};
}

double replay_speed(const std::string& text) {
  if (text == "max") return 0;
  std::size_t used = 0;
  double speed = 0;
  try {
    speed = std::stod(text, &used);
  } catch (const std::exception&) {
    used = 0;
  }
  if (used != text.size() || !(speed > 0 && speed <= 1e6))
    throw Error(ErrorCode::usage, "--replay: '" + text + "' is neither a number above 0 nor max");
  return speed;
}

/// A recording as a sensor that sends it again.
std::unique_ptr<LiveSource> replayed(const LiveFlags& flags, const NamedInput& input, LivePersonSetup& person) {
  const Recording recording =
      read_recording(input.path, {.rate = flags.rate ? std::optional{Hertz{*flags.rate}} : std::nullopt});
  FindOptions find;
  find.streaming = true;
  find.kind = flags.kind == "ecg" ? KindChoice::ecg : KindChoice::pulse;
  if (!flags.column.empty()) find.channels = {find_channel(recording, flags.column)};
  ChosenSignals chosen = choose_signals(recording, find);
  person.sensor.kind = chosen.kind;
  person.replayed = chosen.signals.at(0).rate;
  return open_replay(std::move(chosen.signals[0].values), *person.replayed, replay_speed(flags.replay));
}

bool is_loopback(const std::string& address) {
  return address == "localhost" || address == "::1" || address.starts_with("127.");
}

std::optional<ProjectorSetup> projector_of(const LiveFlags& flags, const std::vector<NamedInput>& inputs) {
  if (!flags.serve) return std::nullopt;
  ProjectorSetup setup;
  setup.port = static_cast<int>(*flags.serve);
  if (!flags.serve_at.empty()) {
    setup.address = flags.serve_at;
    setup.beyond_loopback = !is_loopback(flags.serve_at);
  }
  setup.language = *language_of(flags.language);
  for (const std::string& code : flags.leave_out) {
    if (std::none_of(inputs.begin(), inputs.end(), [&](const NamedInput& i) { return i.code == code; }))
      throw Error(ErrorCode::usage, "--leave-out: nobody is called '" + code + "'");
  }
  setup.left_out = flags.leave_out;
  return setup;
}

ExitCode run(const LiveFlags& flags) {
  const std::vector<NamedInput> inputs = named_inputs(flags);
  if (!flags.replay.empty() && !flags.record.empty())
    throw Error(ErrorCode::usage, "--replay plays what is recorded already: leave out --record");
  std::optional<Roster> roster;
  if (!flags.roster.empty()) roster = read_roster(flags.roster);
  LiveRunSetup setup;
  for (const NamedInput& input : inputs) {
    LivePersonSetup person{input.code, input.path, standing_of(flags, roster, input.code), {}};
    person.sensor.kind = flags.kind == "ecg" ? ChannelKind::ecg : ChannelKind::pulse;
    if (flags.rate) person.sensor.rate = Hertz{*flags.rate};
    person.sensor.form = wire_form(flags.wire);
    person.sensor.column = flags.column;
    if (!flags.replay.empty()) {
      setup.sources.push_back(replayed(flags, input, person));
    } else {
      SourceOptions options;
      options.baud = static_cast<int>(flags.baud);
      if (flags.quiet) options.quiet = Seconds{*flags.quiet};
      setup.sources.push_back(open_source(input.path, options));
      struct stat about {};
      if (::stat(input.path.c_str(), &about) == 0 && S_ISCHR(about.st_mode)) person.baud = options.baud;
      person.in_real_time = setup.sources.back()->in_real_time();
    }
    setup.people.push_back(std::move(person));
  }
  if (!flags.record.empty()) setup.record = flags.record;
  setup.projector = projector_of(flags, inputs);
  if (flags.length) setup.length = Seconds{*flags.length};
  setup.closing.effort = effort_options(flags.person);
  setup.closing.threads = 2;
  if (!flags.lesson.empty()) {
    setup.lesson.emplace();
    setup.lesson->plan = plan_durations(flags.lesson);
    setup.lesson->count = Seconds{flags.count_over};
  }
  if (flags.format == "screen" || flags.format == "auto") setup.view = live_terminal_view();
  if (!setup.view && flags.format == "screen")
    throw Error(ErrorCode::usage, "--format screen needs a terminal on standard output; text and jsonl do not");
  const bool keys =
      setup.lesson && std::none_of(inputs.begin(), inputs.end(), [](const NamedInput& i) { return i.path == "-"; });
  if (!setup.view) setup.view = flags.format == "jsonl" ? live_lines_view(keys) : live_text_view(keys);
  return run_live(std::move(setup));
}

}  // namespace

void add_live(Program& program) {
  const auto flags = std::make_shared<LiveFlags>();
  Command* command =
      program.app.add_subcommand("live", "Beats and heart rate while the sensor is on the finger, of one or of many");
  command
      ->add_option("INPUT", flags->inputs,
                   "Serial ports, pipes, growing files or - for standard input; CODE=PATH says who wears the sensor")
      ->type_name("")
      ->required();
  command->add_option("--kind", flags->kind, "What the sensors measure")
      ->check(one_of({"pulse", "ecg"}))
      ->type_name("pulse|ecg")
      ->capture_default_str();
  command
      ->add_option("--wire", flags->wire,
                   "How samples are written: lines of text or JSON, frames with a check sum, or heart-rate packets of "
                   "the open Bluetooth service as lines of hexadecimal digits")
      ->check(one_of({"auto", "lines", "frames", "packets"}))
      ->type_name("auto|lines|frames|packets")
      ->capture_default_str();
  command->add_option("--column", flags->column, "The column or channel of the wave, where there are several")
      ->type_name("NAME");
  command->add_option("--rate", flags->rate, "Sampling rate of sensors that send no clock; found from it otherwise")
      ->check(number_above_zero())
      ->type_name("HZ");
  command->add_option("--baud", flags->baud, "Speed of serial ports")
      ->check(number_between(300, 4000000))
      ->type_name("BAUD")
      ->capture_default_str();
  command
      ->add_option("--replay", flags->replay,
                   "INPUT are recordings, played again at this many times their own pace; max is as fast as it goes")
      ->type_name("SPEED|max");
  command->add_option("--quiet", flags->quiet, "A file that has not grown for so many seconds has ended")
      ->check(number_above_zero())
      ->type_name("S");
  command->add_option("--for", flags->length, "End after so many seconds")->check(number_above_zero())->type_name("S");
  command
      ->add_option("--record", flags->record,
                   "Keep the samples in this folder, a file a person, which analyze reads; at the end say what they "
                   "come to as a whole")
      ->type_name("DIR");
  Option* lesson =
      command
          ->add_option("--lesson", flags->lesson,
                       "Guide through a lesson: find the pulse, a minute of rest, exercise as target --plan writes it "
                       "(5-20-5, or 5-3x4/2-5), recovery, and counts by hand beside the sensor's rate")
          ->type_name("MINUTES");
  command
      ->add_option("--count-over", flags->count_over, "Seconds of a count by hand in the lesson: 10, 15, 20, 30 or 60")
      ->type_name("SECONDS")
      ->needs(lesson)
      ->capture_default_str();
  Option* serve =
      command
          ->add_option("--serve", flags->serve,
                       "Serve a page for the wall at this port of this machine (0: any that is free): everybody on one "
                       "axis of per cent of the own reserve")
          ->check(number_between(0, 65535))
          ->type_name("PORT");
  command
      ->add_option("--serve-at", flags->serve_at,
                   "Serve it at this address of the machine instead, for others on the network who know the token in "
                   "the printed address")
      ->type_name("ADDRESS")
      ->needs(serve);
  command->add_option("--leave-out", flags->leave_out, "Do not show this code on the page; may be repeated")
      ->type_name("CODE")
      ->needs(serve);
  command->add_option("--language", flags->language, "Language of the page")
      ->check(one_of({"en", "de", "es"}))
      ->type_name("en|de|es")
      ->capture_default_str()
      ->needs(serve);
  command->add_option("--roster", flags->roster, "What is known of the people, by code")->type_name("FILE");
  add_person_options(*command, flags->person);
  command
      ->add_option("--format", flags->format,
                   "A screen on a terminal; a sentence a second; or an object a beat and a second")
      ->check(one_of({"auto", "screen", "text", "jsonl"}))
      ->type_name("auto|screen|text|jsonl")
      ->capture_default_str();
  end_help(*command, "pulsewright live datasets/simulated/wren_stair_climb.csv --replay max --format text");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
