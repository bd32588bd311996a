#include "compare_folders.hpp"

#include <filesystem>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/study_warnings.hpp"
#include "records/beat_list.hpp"
#include "stage_results.hpp"
#include "standard_streams.hpp"
#include "study_pairs.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

std::optional<Hertz> reference_rate(const CompareInputs& inputs) {
  return inputs.test.reference_rate ? std::optional<Hertz>(Hertz{*inputs.test.reference_rate}) : std::nullopt;
}

CompareInputs inputs_of_record(const CompareInputs& inputs, const std::string& name, const fs::path& test) {
  CompareInputs one = inputs;
  one.reference = (fs::path(inputs.reference) / (name + inputs.reference_ending)).string();
  one.test.input = test.string();
  if (!inputs.exclude.empty()) {
    const fs::path spans = fs::path(inputs.reference) / (name + inputs.exclude);
    one.exclude = fs::exists(spans) ? spans.string() : "";
  }
  return one;
}

void add_input_warnings(BeatComparisonTable& table) {
  std::vector<InputWarnings> inputs;
  inputs.reserve(table.records.size());
  for (const BeatComparison& record : table.records) inputs.push_back({record.agreement.name, record.warnings});
  table.warnings = warnings_of_inputs(inputs);
}

}  // namespace

MatchOptions match_options(const CompareInputs& inputs) {
  MatchOptions rules;
  rules.tolerance = Seconds{inputs.tolerance_s};
  rules.skip = Seconds{inputs.skip_s};
  return rules;
}

ComparedBeats compare_pair(const CompareInputs& inputs) {
  ComparedBeats result;
  const BeatFile reference = read_beats(inputs.reference, reference_rate(inputs));
  result.rules = match_options(inputs);
  result.rules.exclude = reference.flutter;
  if (!inputs.exclude.empty())
    for (const Span& span : read_spans(inputs.exclude, reference_rate(inputs))) result.rules.exclude.push_back(span);
  // What --start and --end leave out of the test is not held against it.
  if (inputs.test.start) result.rules.exclude.push_back({Seconds{0}, Seconds{*inputs.test.start}});
  if (inputs.test.end) {
    const Seconds end{*inputs.test.end};
    if (end < reference.beats.duration) result.rules.exclude.push_back({end, reference.beats.duration + Seconds{1}});
  }
  InputFlags test = inputs.test;
  // On standard input beats are expected, as `beats` prints them: a recording there is `beats - | compare beats REFERENCE -`.
  if (is_beat_list(test.input) || test.input == "-") test.form = "beats";
  result.test = stamped_beats(test, settings(inputs));
  result.comparison.agreement = match_beats(reference.beats, result.test, result.rules);
  result.comparison.agreement.name = base_name(inputs.test.input);
  result.comparison.warnings = result.test.warnings;
  result.comparison.sweep = sweep_tolerance(reference.beats, result.test, result.rules);
  return result;
}

BeatComparisonTable compare_folders(const CompareInputs& inputs) {
  if (!fs::is_directory(inputs.test.input))
    throw Error(ErrorCode::usage,
                "REFERENCE is a folder and TEST (" + inputs.test.input + ") is not; give two files or two folders");
  BeatComparisonTable table;
  std::vector<BeatAgreement> all;
  for (const auto& [name, test] : tests_in_folder(inputs.test.input)) {
    const CompareInputs one = inputs_of_record(inputs, name, test);
    if (!fs::exists(one.reference)) continue;
    if (progress_wanted()) talk_progress(name);
    ComparedBeats compared = compare_pair(one);
    all.push_back(compared.comparison.agreement);
    table.records.push_back(std::move(compared.comparison));
  }
  if (progress_wanted()) talk_progress("");
  if (all.empty())
    throw Error(ErrorCode::unreadable, inputs.reference + ": holds no reference NAME" + inputs.reference_ending +
                                           " for any record NAME of " + inputs.test.input + "; see --reference-ending");
  add_input_warnings(table);
  table.gross.agreement = pool(all, "gross");
  return table;
}

BeatComparisonTable compare_study(const CompareInputs& inputs) {
  StudyInputs study;
  study.pair.reference.input = inputs.reference;
  study.pair.test = inputs.test;
  study.pair.reference.reference_rate = inputs.test.reference_rate;
  study.study_folder = inputs.study_folder;
  BeatComparisonTable table;
  std::vector<BeatAgreement> all;
  std::vector<RecordFacts> facts;
  for (StudyPair& pair : pairs_of(study)) {
    if (progress_wanted()) talk_progress(pair.facts.name);
    CompareInputs one = inputs;
    one.reference = pair.inputs.reference.input;
    one.test = pair.inputs.test;
    one.test.reference_rate = pair.inputs.reference.reference_rate;
    try {
      ComparedBeats compared = compare_pair(one);
      compared.comparison.agreement.name = pair.facts.name;
      all.push_back(compared.comparison.agreement);
      facts.push_back(std::move(pair.facts));
      table.records.push_back(std::move(compared.comparison));
    } catch (const Error& error) {
      table.left_out.push_back({pair.facts.name, error.what()});
    }
  }
  if (progress_wanted()) talk_progress("");
  add_input_warnings(table);
  table.gross.agreement = pool(all, "gross");
  table.groups = beat_groups(facts, all);
  for (Warning& warning : beat_study_warnings(facts, all)) table.warnings.push_back(std::move(warning));
  for (const LeftOutRecord& record : table.left_out)
    table.warnings.push_back({"left_out", record.name + " was left out: " + record.reason});
  return table;
}

Json settings(const CompareInputs& inputs) {
  auto options = settings(inputs.test);
  options["reference"] = fs::path(inputs.reference).lexically_normal().filename().string();
  options["tolerance_s"] = inputs.tolerance_s;
  options["skip_s"] = inputs.skip_s;
  if (!inputs.exclude.empty()) options["exclude"] = fs::path(inputs.exclude).filename().string();
  return options;
}

}  // namespace pulsewright::program
