/// `simulate`: a recording with known truth.
#include "simulate_command.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

constexpr int interval_decimals = 1;  ///< of ms
constexpr int time_decimals = 6;

void scale(Disturbance& disturbance, const SimulateFlags& flags) {
  for (double* level : {&disturbance.white, &disturbance.muscle, &disturbance.mains, &disturbance.baseline}) {
    *level *= flags.noise;
  }
  if (flags.snr_db) disturbance.snr_db = flags.snr_db;
}

/// The same range in steps of another size.
void use_bits(std::optional<Converter>& converter, int bits) {
  if (converter) converter->bits = bits;
}

void keep_kinds(Scenario& scenario, const std::vector<std::string>& kinds) {
  if (kinds.empty()) return;
  const auto asked = [&kinds](const char* kind) { return std::find(kinds.begin(), kinds.end(), kind) != kinds.end(); };
  if (!asked("ecg")) scenario.ecg.reset();
  if (!asked("pulse")) scenario.pulse.reset();
  if (!asked("acceleration")) scenario.motion.reset();
}

std::string stem_of(const SimulateFlags& flags) {
  std::string stem = flags.name.empty() ? flags.person + '_' + flags.scenario : flags.name;
  if (flags.name.empty()) std::replace(stem.begin(), stem.end(), '-', '_');
  const bool plain = !stem.empty() && stem.front() != '.' && stem.find_first_of("/\\ \t\n") == std::string::npos;
  if (!plain) throw Error(ErrorCode::usage, "--name: '" + stem + "' must be a file name without folders or blanks");
  return stem;
}

/// The list that `--input intervals --unit ms` reads: one interval a line.
std::string interval_list(const BeatTrain& beats) {
  std::string bytes;
  for (std::size_t i = 1; i < beats.candidates.size(); ++i) {
    const Seconds interval = beats.candidates[i].time - beats.candidates[i - 1].time;
    bytes += format_number(1000.0 * interval.value(), interval_decimals) + '\n';
  }
  return bytes;
}

std::string beat_list(const BeatTrain& beats) {
  std::string bytes = "time_s\n";
  for (const Beat& beat : beats.candidates) bytes += format_number(beat.time.value(), time_decimals) + '\n';
  return bytes;
}

ExitCode run(const SimulateFlags& flags) {
  const Scenario scenario = scenario_of(flags);
  const std::string stem = stem_of(flags);
  const OutputFlags output{.format = "csv", .out = flags.out, .overwrite = flags.overwrite};
  const SimulationFormat format = flags.store == "record" ? SimulationFormat::open_record : SimulationFormat::text;
  if (flags.out.empty() && (format == SimulationFormat::open_record || flags.intervals || flags.observer)) {
    throw Error(ErrorCode::usage, "--store record, --intervals and --observer write several files: add --out DIR");
  }
  prepare_output(output);

  const Simulation simulation = simulate(scenario);
  std::vector<NamedBytes> files = simulation_files(simulation, stem, format);
  if (flags.out.empty()) {
    print(files.front().bytes);
    return ExitCode::done;
  }
  const BeatTrain beats = simulation.readable_beats();
  if (flags.intervals) files.push_back({stem + "_intervals.txt", interval_list(beats)});
  if (flags.observer) {
    files.push_back({stem + "_observer_beats.csv", beat_list(observe(beats, {.seed = flags.seed}))});
  }
  std::vector<std::string> names;
  for (const NamedBytes& file : files) {
    write_file(std::filesystem::path(flags.out) / file.name, file.bytes);
    names.push_back(file.name);
  }
  tell_files(output, names);
  return ExitCode::done;
}

std::string scenario_list() {
  std::string list = "Scenarios:\n";
  for (const ScenarioName& name : scenario_names()) {
    constexpr std::size_t column = 14;
    list += "  " + name.name + std::string(column - std::min(column - 1, name.name.size()), ' ') + name.summary + '\n';
  }
  return list;
}

std::vector<std::string> words() {
  std::vector<std::string> list;
  for (const ScenarioName& name : scenario_names()) list.push_back(name.name);
  return list;
}

void add_scene_options(Command& command, SimulateFlags& flags) {
  command.add_option("--scenario", flags.scenario, "What happens; see below")
      ->check(one_of(words()))
      ->type_name("NAME")
      ->capture_default_str();
  command.add_option("--person", flags.person, "To whom: wren is quick and coasts, heron slow and at the limit")
      ->check(one_of(scenario_people()))
      ->type_name("CODE")
      ->capture_default_str();
  command.add_option("--seed", flags.seed, "Same seed, same bytes")
      ->check(whole_number())
      ->type_name("N")
      ->capture_default_str();
  command.add_option("--duration", flags.duration_s, "Stretch or shorten everything to last this long, in seconds")
      ->check(number_above_zero())
      ->type_name("S");
}

void add_device_options(Command& command, SimulateFlags& flags) {
  command.add_option("--rate", flags.rate_hz, "Sampling rate in Hz")->check(number_above_zero())->type_name("HZ");
  command.add_option("--kind", flags.kinds, "Channels to record, commas between; all of the scenario's unless given")
      ->check(one_of({"ecg", "pulse", "acceleration"}))
      ->delimiter(',')
      ->type_name("ecg,pulse,acceleration");
  command.add_option("--noise", flags.noise, "Noise as a multiple of the scenario's; 0 is clean")
      ->check(number_from_zero())
      ->type_name("FACTOR")
      ->capture_default_str();
  command.add_option("--snr", flags.snr_db, "Scale the noise of every channel to this signal-to-noise ratio in dB")
      ->check(number_between(-100, 200))
      ->type_name("DB");
  command.add_option("--artefacts", flags.movement, "Movement artefacts as a multiple of the scenario's")
      ->check(number_from_zero())
      ->type_name("FACTOR")
      ->capture_default_str();
  command.add_option("--losses", flags.losses_per_minute, "How often the pulse sensor loses contact, per minute")
      ->check(number_from_zero())
      ->type_name("N");
  command.add_option("--lost", flags.lost, "What is stored then: nothing, or the last value")
      ->check(one_of({"gap", "flat"}))
      ->type_name("gap|flat")
      ->capture_default_str();
  command.add_option("--bits", flags.bits, "Bits of the converters, over the same range")
      ->check(number_between(1, 24))
      ->type_name("N");
  command.add_option("--clock-error", flags.clock_ppm, "The device's clock runs fast by this many parts in a million")
      ->check(number_between(-100000, 100000))
      ->type_name("PPM")
      ->capture_default_str();
  command.add_option("--jitter", flags.jitter_ms, "Spread of the moments of sampling, SD in ms")
      ->check(number_from_zero())
      ->type_name("MS")
      ->capture_default_str();
  command.add_option("--stamps", flags.stamps_ms, "Write when each sample was truly taken, in steps of this many ms")
      ->check(number_from_zero())
      ->type_name("MS");
}

void add_file_options(Command& command, SimulateFlags& flags) {
  command
      .add_option("--out", flags.out, "Write recording and truth into this folder; without it the recording is printed")
      ->type_name("DIR");
  command.add_flag("--overwrite", flags.overwrite, "Write into the folder of --out even if it holds something");
  command.add_option("--store", flags.store, "As CSV or as a record of the open format (header, data, annotations)")
      ->check(one_of({"csv", "record"}))
      ->type_name("csv|record")
      ->capture_default_str();
  command.add_option("--name", flags.name, "Start of the files' names; PERSON_SCENARIO unless given")
      ->type_name("STEM");
  command.add_flag("--intervals", flags.intervals, "Also the true intervals as a bare list in ms");
  command.add_flag("--observer", flags.observer,
                   "Also the beats as somebody marked them by eye: 2 % missed, one in two minutes too many, 15 ms off");
}

}  // namespace

Scenario scenario_of(const SimulateFlags& flags) {
  Scenario scenario = named_scenario(flags.scenario, flags.person);
  scenario.seed = flags.seed;
  if (flags.duration_s) scenario = stretched(scenario, Seconds{*flags.duration_s});
  if (flags.rate_hz) scenario.rate = Hertz{*flags.rate_hz};
  if (scenario.ecg) {
    scale(scenario.ecg->disturbance, flags);
    scenario.ecg->movement_mv_per_g *= flags.movement;
    if (flags.bits) use_bits(scenario.ecg->converter, *flags.bits);
  }
  if (scenario.pulse) {
    scale(scenario.pulse->disturbance, flags);
    scenario.pulse->movement_per_g *= flags.movement;
    if (flags.bits) use_bits(scenario.pulse->converter, *flags.bits);
  }
  keep_kinds(scenario, flags.kinds);
  if (flags.losses_per_minute) scenario.contact.losses_per_minute = *flags.losses_per_minute;
  scenario.contact.form = flags.lost == "flat" ? DropOutForm::flat : DropOutForm::gap;
  scenario.clock.error_ppm = flags.clock_ppm;
  scenario.clock.jitter = Seconds{flags.jitter_ms / 1000.0};
  if (flags.stamps_ms) scenario.clock.stamps = Seconds{*flags.stamps_ms / 1000.0};
  return scenario;
}

void add_simulate(Program& program) {
  const auto flags = std::make_shared<SimulateFlags>();
  Command* command = program.app.add_subcommand("simulate", "Make a recording whose beats are known");
  add_scene_options(*command, *flags);
  add_device_options(*command, *flags);
  add_file_options(*command, *flags);
  end_help(*command, "pulsewright simulate --scenario stair-climb --person heron --out results/heron", scenario_list());
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
