/// `compare counts`: a class sheet of pulse counts against recordings.
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>

#include "compare_subcommands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/error.hpp"
#include "records/beat_list.hpp"
#include "records/sheet_file.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct CountFlags {
  std::string sheet, folder;
  InputFlags input;
  OutputFlags output;
};

SheetCount count_of(const Sheet& sheet, const SheetRow& row) {
  SheetCount count;
  count.code = row.word("code");
  count.recording = row.word("recording");
  const auto counted = sheet.number(row, "count"), seconds = sheet.number(row, "seconds");
  if (count.recording.empty()) sheet.refuse(row, "column recording: names no recording");
  if (!counted || *counted < 0 || *counted != std::floor(*counted) || *counted > 1000)
    sheet.refuse(row, "column count: value '" + row.word("count") + "': is no whole number of beats");
  if (!seconds || !(*seconds >= 1 && *seconds <= 600))
    sheet.refuse(row, "column seconds: value '" + row.word("seconds") + "': a count takes 1 to 600 s");
  count.counted = static_cast<int>(*counted);
  count.length = Seconds{*seconds};
  count.start = Seconds{sheet.number(row, "start_s").value_or(0)};
  const std::string began = row.word("began");
  if (!began.empty() && began != "beat" && began != "moment")
    sheet.refuse(row, "column began: value '" + began + "': is none of beat, moment");
  count.began = began == "beat" ? CountStart::on_a_beat : CountStart::any_moment;
  return count;
}

ExitCode run(const CountFlags& flags) {
  prepare_output(flags.output);
  const Sheet sheet = read_sheet(flags.sheet, {"code", "recording", "start_s", "seconds", "count", "began"});
  const fs::path folder = flags.folder.empty() ? fs::path(flags.sheet).parent_path() : fs::path(flags.folder);
  std::map<std::string, BeatTrain> trains;
  std::vector<ScoredCount> counts;
  for (const SheetRow& row : sheet.rows) {
    const SheetCount count = count_of(sheet, row);
    auto train = trains.find(count.recording);
    if (train == trains.end()) {
      InputFlags input = flags.input;
      input.input = (folder / count.recording).string();
      if (is_beat_list(input.input)) input.form = "beats";
      train = trains.emplace(count.recording, beats_of(input)).first;
    }
    counts.push_back(score_count(count, train->second));
  }
  const CountStudy study = count_study(std::move(counts));
  talk_warnings(study.warnings);
  const Provenance provenance{.input = fs::path(flags.sheet).filename().string(),
                              .format = "sheet",
                              .sha256 = sha256_of_file(flags.sheet),
                              .options = settings_text(settings(flags.input)),
                              .version = version()};
  deliver(flags.output, "count_comparison",
          {[&] { return counts_text(study); }, [&](const NumberStyle& style) { return counts_csv(study, style); },
           [&] { return counts_json(study, provenance); }});
  for (const ScoredCount& count : study.counts)
    if (count.recorded) return ExitCode::done;
  return ExitCode::no_value;
}

}  // namespace

void add_compare_counts(Program& program, Command& compare) {
  const auto flags = std::make_shared<CountFlags>();
  Command* command = compare.add_subcommand("counts", "A class sheet of pulse counts against recordings");
  command
      ->add_option("SHEET", flags->sheet,
                   "Table with the columns code, recording, start_s, seconds, count, began (beat or moment)")
      ->required()
      ->type_name("");
  command->add_option("--folder", flags->folder, "What recordings are relative to; the sheet's folder unless given")
      ->type_name("DIR");
  add_rate_option(*command, flags->input);
  add_channel_options(*command, flags->input);
  add_output_options(*command, flags->output, "text");
  end_help(*command, "pulsewright compare counts datasets/studies/club_counts.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
