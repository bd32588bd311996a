/// `compare intervals`: intervals and variability against a reference, for one pair or a study.
#include <filesystem>
#include <memory>

#include "compare_subcommands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/stated_clocks.hpp"
#include "records/beat_list.hpp"
#include "standard_streams.hpp"
#include "study/study_pairs.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct IntervalFlags {
  StudyInputs inputs{.reference_ending = ".atr"};
  double tolerance_s = 0.15;
  std::optional<double> offset_s;
  std::uint64_t seed = 1;
  OutputFlags output;
};

InputBeats train_of(InputFlags flags) {
  if (is_beat_list(flags.input) || flags.reference_rate) flags.form = "beats";
  return beats_and_clock_of(flags);
}

IntervalStudyOptions study_options(const IntervalFlags& flags) {
  IntervalStudyOptions options;
  options.match.tolerance = Seconds{flags.tolerance_s};
  if (flags.offset_s) options.offset = Seconds{*flags.offset_s};
  options.paired.seed = flags.seed;
  return options;
}

std::vector<ComparedIntervals> compare_pairs(const IntervalFlags& flags, const IntervalStudyOptions& options) {
  std::vector<ComparedIntervals> records;
  for (StudyPair& pair : pairs_of(flags.inputs)) {
    if (progress_wanted()) talk_progress(pair.facts.name);
    IntervalRecord record;
    record.facts = std::move(pair.facts);
    record.one_clock = pair.one_clock;
    try {
      InputBeats reference = train_of(pair.inputs.reference), test = train_of(pair.inputs.test);
      record.by_clocks = offset_by_clocks(reference.clock_start, test.clock_start);
      record.reference = std::move(reference.beats);
      record.test = std::move(test.beats);
    } catch (const Error& error) {
      if (is_one_pair(flags.inputs)) throw;
      record.unreadable = error.what();
    }
    records.push_back(compare_intervals(std::move(record), options));
  }
  if (progress_wanted()) talk_progress("");
  return records;
}

Provenance provenance_of(const IntervalFlags& flags) {
  const PairInputs& pair = flags.inputs.pair;
  const std::string& named = pair.test.input.empty() ? pair.reference.input : pair.test.input;
  auto options = settings(flags.inputs);
  options["tolerance_s"] = flags.tolerance_s;
  if (flags.offset_s) options["offset_s"] = *flags.offset_s;
  options["seed"] = flags.seed;
  return {.input = fs::path(named).lexically_normal().filename().string(),
          .format = is_one_pair(flags.inputs) ? "pair" : "study",
          .sha256 = fs::is_regular_file(named) ? sha256_of_file(named) : "",
          .options = settings_text(options),
          .version = version()};
}

ExitCode run_one(const IntervalFlags& flags, ComparedIntervals record) {
  record.agreement.warnings.insert(record.agreement.warnings.end(), record.warnings.begin(), record.warnings.end());
  talk_warnings(record.agreement.warnings);
  deliver(flags.output, "interval_comparison",
          {[&] { return intervals_agreement_text(record); },
           [&](const NumberStyle& style) { return intervals_agreement_csv(record, style); },
           [&] { return intervals_agreement_json(record, provenance_of(flags)); }});
  return record.agreement.intervals.pairs > 0 ? ExitCode::done : ExitCode::no_value;
}

ExitCode run(const IntervalFlags& flags) {
  prepare_output(flags.output);
  IntervalStudyOptions options = study_options(flags);
  if (is_one_pair(flags.inputs)) options.fewest_intervals = 1;
  std::vector<ComparedIntervals> records = compare_pairs(flags, options);
  if (is_one_pair(flags.inputs)) return run_one(flags, std::move(records.front()));
  const IntervalStudy study = interval_study(std::move(records), options);
  talk_warnings(study.warnings);
  deliver(flags.output, "interval_study",
          {[&] { return interval_study_text(study); },
           [&](const NumberStyle& style) { return interval_study_csv(study, style); },
           [&] { return interval_study_json(study, provenance_of(flags)); }});
  return study.overall.records > 0 ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_compare_intervals(Program& program, Command& compare) {
  const auto flags = std::make_shared<IntervalFlags>();
  Command* command =
      compare.add_subcommand("intervals", "Intervals beat by beat, and variability, against a reference");
  add_study_inputs(*command, flags->inputs);
  command->add_option("--tolerance", flags->tolerance_s, "Farthest two matched beats may be apart, after --offset")
      ->check(number_between(0.001, 1.0))
      ->type_name("SECONDS")
      ->capture_default_str();
  command
      ->add_option("--offset", flags->offset_s,
                   "Delay of the test, as of a pulse after its R peak; the one that aligns the two unless given")
      ->check(number_between(-3600, 3600))
      ->type_name("SECONDS");
  command->add_option("--seed", flags->seed, "Of the bootstrap over people")
      ->check(whole_number())
      ->type_name("N")
      ->capture_default_str();
  add_output_options(*command, flags->output, "text");
  end_help(*command,
           "pulsewright compare intervals datasets/simulated/heron_rest_ecg_truth_beats.csv "
           "datasets/simulated/heron_rest_ecg.csv");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
