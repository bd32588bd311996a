/// `bench`: waves with known answers for a meter on the bench, and the score of what it made of them.
#include <algorithm>
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/error.hpp"
#include "records/sheet_file.hpp"
#include "records/wav_file.hpp"
#include "standard_streams.hpp"
#include "study/bench_returns.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct WaveFlags {
  std::string out;
  bool overwrite = false;
  std::string store = "csv";
  std::optional<double> rate_hz;
  double full_scale_mv = 2.5;
};

struct ScoreFlags {
  InputFlags returned;
  OutputFlags output;
};

constexpr double file_rate_hz = 500, sound_rate_hz = 48000;

std::string csv_of(const std::vector<float>& samples, double rate_hz) {
  std::string bytes = "time_s,ecg_mV\n";
  for (std::size_t i = 0; i < samples.size(); ++i)
    bytes += format_number(static_cast<double>(i) / rate_hz, 6) + ',' +
             format_number(static_cast<double>(samples[i]), 4) + '\n';
  return bytes;
}

ExitCode write_waves(const WaveFlags& flags) {
  const bool sound = flags.store == "wav";
  const double rate = flags.rate_hz.value_or(sound ? sound_rate_hz : file_rate_hz);
  const OutputFlags output{.format = "csv", .out = flags.out, .overwrite = flags.overwrite};
  prepare_output(output);
  const std::vector<BenchWave> waves = bench_waves();
  const std::string ending = sound ? ".wav" : ".csv";
  std::vector<std::string> names{"bench_answers.csv"};
  for (const BenchWave& wave : waves) {
    const std::vector<float> samples = bench_samples(wave, Hertz{rate});
    names.push_back(wave.name + ending);
    write_file(fs::path(flags.out) / names.back(),
               sound ? wav_bytes(samples, Hertz{rate}, flags.full_scale_mv) : csv_of(samples, rate));
  }
  write_file(fs::path(flags.out) / names.front(), bench_answers_csv(waves, ending));
  tell_files(output, names);
  return ExitCode::done;
}

/// Readings that somebody noted: a row a wave, an empty cell where the meter showed nothing.
std::vector<BenchResult> score_sheet(const std::string& path) {
  const Sheet sheet = read_sheet(path, {"wave", "reading_bpm"});
  std::vector<BenchResult> results;
  for (const BenchWave& wave : bench_waves()) {
    const auto row = std::find_if(sheet.rows.begin(), sheet.rows.end(),
                                  [&wave](const SheetRow& r) { return r.word("wave") == wave.name; });
    if (row == sheet.rows.end()) continue;
    const auto number = sheet.number(*row, "reading_bpm");
    results.push_back(
        score_bench(wave, number ? std::optional<BeatsPerMinute>(BeatsPerMinute{*number}) : std::nullopt));
  }
  for (auto row = sheet.rows.begin(); row != sheet.rows.end(); ++row) {
    const auto above = std::find_if(sheet.rows.begin(), row,
                                    [&row](const SheetRow& r) { return r.word("wave") == row->word("wave"); });
    if (above != row)
      sheet.refuse(*row, "column wave: value '" + row->word("wave") + "': stands in line " +
                             std::to_string(above->line) + " already; each wave has one reading");
    const bool known = std::any_of(results.begin(), results.end(),
                                   [&row](const BenchResult& r) { return r.wave.name == row->word("wave"); });
    if (!known) sheet.refuse(*row, "column wave: value '" + row->word("wave") + "': is no wave of the bench test");
  }
  return results;
}

ExitCode score(const ScoreFlags& flags) {
  prepare_output(flags.output);
  const bool folder = fs::is_directory(flags.returned.input);
  const std::vector<BenchResult> results = folder ? score_returned(flags.returned) : score_sheet(flags.returned.input);
  if (results.empty())
    throw Error(ErrorCode::unreadable,
                flags.returned.input +
                    ": holds nothing that is called like a wave of the bench test; see pulsewright bench waves --help");
  const Provenance provenance{.input = fs::path(flags.returned.input).lexically_normal().filename().string(),
                              .format = folder ? "folder" : "sheet",
                              .sha256 = "",
                              .options = "",
                              .version = version()};
  deliver(flags.output, "bench",
          {[&] { return bench_text(results); }, [&](const NumberStyle& style) { return bench_csv(results, style); },
           [&] { return bench_json(results, provenance); }});
  return ExitCode::done;
}

void add_waves(Program& program, Command& bench) {
  const auto flags = std::make_shared<WaveFlags>();
  Command* command = bench.add_subcommand("waves", "Write the waves and bench_answers.csv, as CSV or for a sound card");
  command->add_option("--out", flags->out, "Folder to write into, which is made")->required()->type_name("DIR");
  command->add_flag("--overwrite", flags->overwrite, "Write into the folder of --out even if it holds something");
  command->add_option("--store", flags->store, "csv, or wav for a sound card and an attenuator")
      ->check(one_of({"csv", "wav"}))
      ->type_name("csv|wav")
      ->capture_default_str();
  command->add_option("--rate", flags->rate_hz, "Sampling rate: 500 for csv and 48000 for wav unless given")
      ->check(number_between(200, 192000))
      ->type_name("HZ");
  command
      ->add_option("--full-scale", flags->full_scale_mv,
                   "Of wav: mV at full scale, which the attenuator must make of the card's full output")
      ->check(number_between(1.5, 100))
      ->type_name("MV")
      ->capture_default_str();
  end_help(
      *command, "pulsewright bench waves --out results/bench --overwrite",
      "A sound card does not pass slow waves: below some 10 to 20 Hz T waves and baselines sag. Look at what comes out "
      "before trusting the result.\n"
      "Never inject into hardware while a person is connected to it.\n");
  command->callback([&program, flags] { program.run = [flags] { return write_waves(*flags); }; });
}

void add_score(Program& program, Command& bench) {
  const auto flags = std::make_shared<ScoreFlags>();
  Command* command =
      bench.add_subcommand("score", "Score what came back: a folder of recordings or rates, or a sheet of readings");
  command
      ->add_option("RETURNED", flags->returned.input,
                   "Folder with a file for each wave, called like it (recording, WAV, beats or rates), or a sheet with "
                   "the columns "
                   "wave and reading_bpm")
      ->required()
      ->type_name("");
  add_rate_option(*command, flags->returned);
  add_channel_options(*command, flags->returned);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright bench score results/bench");
  command->callback([&program, flags] { program.run = [flags] { return score(*flags); }; });
}

}  // namespace

void add_bench(Program& program) {
  Command* bench =
      program.app.add_subcommand("bench", "Waves with known answers for a meter on the bench, and its score");
  bench->require_subcommand();
  end_help(*bench, "pulsewright bench waves --help");
  add_waves(program, *bench);
  add_score(program, *bench);
}

}  // namespace pulsewright::program
