/// `compare` and `compare beats`: how well beats agree with a reference.
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "compare_subcommands.hpp"
#include "options/help_ending.hpp"
#include "options/input_options.hpp"
#include "options/output_options.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "records/beat_list.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"
#include "study/compare_folders.hpp"
#include "study/study_pairs.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

struct CompareFlags {
  CompareInputs inputs;
  OutputFlags output;
};

Provenance provenance_of(const CompareFlags& flags, const BeatTrain* test) {
  Provenance provenance;
  if (test != nullptr) provenance = test->provenance;
  if (test == nullptr) {
    const bool study = flags.inputs.test.input.empty();
    provenance.input =
        fs::path(study ? flags.inputs.reference : flags.inputs.test.input).lexically_normal().filename().string();
    provenance.format = study ? "study" : "folder";
  }
  provenance.version = version();
  provenance.options = settings_text(settings(flags.inputs));
  return provenance;
}

ExitCode run(const CompareFlags& flags) {
  prepare_output(flags.output);
  const MatchOptions rules = match_options(flags.inputs);
  const bool folders = fs::is_directory(flags.inputs.reference);
  const bool study = !folders && flags.inputs.test.input.empty() && is_study_file(flags.inputs.reference);
  if (!study && flags.inputs.test.input.empty())
    throw Error(ErrorCode::usage, "compare beats needs TEST; see pulsewright compare beats --help");
  if (folders || study) {
    const BeatComparisonTable table = folders ? compare_folders(flags.inputs) : compare_study(flags.inputs);
    const Provenance provenance = provenance_of(flags, nullptr);
    talk_warnings(table.warnings);
    deliver(flags.output, "beat_comparison",
            {[&] { return agreement_text(table, rules); },
             [&](const NumberStyle& style) { return agreement_csv(table, style); },
             [&] { return agreement_json(table, rules, provenance); }});
    return table.gross.agreement.f1_percent() ? ExitCode::done : ExitCode::no_value;
  }
  const ComparedBeats compared = compare_pair(flags.inputs);
  const Provenance provenance = provenance_of(flags, &compared.test);
  talk_warnings(compared.comparison.warnings);
  deliver(flags.output, "beat_comparison",
          {[&] { return agreement_text(compared.comparison, compared.rules); },
           [&](const NumberStyle& style) { return agreement_csv(compared.comparison, style); },
           [&] { return agreement_json(compared.comparison, compared.rules, provenance); }});
  return compared.comparison.agreement.f1_percent() ? ExitCode::done : ExitCode::no_value;
}

}  // namespace

void add_compare(Program& program) {
  Command* compare = program.app.add_subcommand("compare", "How well two results agree");
  compare->require_subcommand();
  end_help(*compare, "pulsewright compare beats --help");
  add_compare_beats(program, *compare);
  add_compare_rate(program, *compare);
  add_compare_intervals(program, *compare);
  add_compare_counts(program, *compare);
  add_compare_plan(program, *compare);
}

void add_compare_beats(Program& program, Command& compare) {
  const auto flags = std::make_shared<CompareFlags>();
  Command* command = compare.add_subcommand("beats", "Beats against a reference: Se, +P, F1, timing");
  CompareInputs& inputs = flags->inputs;
  command
      ->add_option("REFERENCE", inputs.reference,
                   "Annotation file, beat table, list of sample numbers, or a folder of them; or, alone, a study file")
      ->required()
      ->type_name("");
  command
      ->add_option(
          "TEST", inputs.test.input,
          "Beat file, or a recording to find beats in; a folder where REFERENCE is one; - for beats on standard input")
      ->type_name("");
  add_time_options(*command, inputs.test);
  add_channel_options(*command, inputs.test);
  command
      ->add_option("--reference-rate", inputs.test.reference_rate,
                   "Sampling rate of beats and spans that are sample numbers from 0")
      ->check(number_above_zero())
      ->type_name("HZ");
  command->add_option("--tolerance", inputs.tolerance_s, "Farthest two matched beats may be apart")
      ->check(number_between(0.001, 1.0))
      ->type_name("SECONDS")
      ->capture_default_str();
  command->add_option("--skip", inputs.skip_s, "Leave the start unscored; EC57 allows 300 s of learning")
      ->check(number_from_zero())
      ->type_name("SECONDS")
      ->capture_default_str();
  command
      ->add_option(
          "--exclude", inputs.exclude,
          "File of spans to leave out, two numbers a line: seconds, or samples with --reference-rate. For folders the "
          "ending of such files' names, as _artefact_spans.txt")
      ->type_name("FILE");
  command
      ->add_option("--reference-ending", inputs.reference_ending,
                   "For folders: what follows the record's name in the names of the references")
      ->type_name("TEXT")
      ->capture_default_str();
  command
      ->add_option("--folder", inputs.study_folder,
                   "What paths in a study file are relative to; its own folder unless given")
      ->type_name("DIR");
  add_output_options(*command, flags->output, "text");
  end_help(*command,
           "pulsewright compare beats datasets/simulated/wren_stair_climb_truth_pulse.csv "
           "datasets/simulated/wren_stair_climb.csv --kind pulse");
  command->callback([&program, flags] { program.run = [flags] { return run(*flags); }; });
}

}  // namespace pulsewright::program
