#include "study_pairs.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "options/value_checks.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/read.hpp"
#include "records/beat_list.hpp"
#include "records/record_list.hpp"
#include "records/sheet_file.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

const std::vector<std::string> study_columns{"reference",
                                             "test",
                                             "name",
                                             "person",
                                             "condition",
                                             "device",
                                             "skin_tone",
                                             "bmi",
                                             "sex",
                                             "criterion",
                                             "kind",
                                             "channel",
                                             "column",
                                             "reference_kind",
                                             "reference_channel",
                                             "reference_column",
                                             "reference_rate_hz",
                                             "start_s",
                                             "end_s"};

/// Columns of which no recording has two.
constexpr std::array<std::string_view, 11> telling_columns{
    "reference", "recording", "file", "name", "person", "condition", "device", "skin_tone", "criterion", "bmi", "sex"};

/// No body mass index of anybody lies outside, in kg/m2 (ours: wide of everybody).
constexpr double lowest_bmi = 5, highest_bmi = 300;

bool same_recording(const InputFlags& a, const InputFlags& b) {
  std::error_code ignored;
  return b.input.empty() || a.input == b.input || fs::equivalent(a.input, b.input, ignored);
}

/// Whether nothing tells the sides of one file apart: it would be compared with itself.
bool same_sides(const PairInputs& inputs) {
  const InputFlags &a = inputs.reference, &b = inputs.test;
  if (a.form != b.form || a.reference_rate != b.reference_rate) return false;
  if (is_beat_list(b.input) || a.reference_rate) return true;
  if (fs::is_regular_file(b.input) && (!inputs.column.empty() || holds_rates(b.input)))
    return inputs.column == inputs.reference_column;
  return a.kind == b.kind && a.channels == b.channels;
}

/// Names the pair, and keeps each side of one recording from the other's channels.
StudyPair settled(PairInputs inputs, RecordFacts facts) {
  StudyPair pair{std::move(inputs), std::move(facts), false};
  pair.one_clock = same_recording(pair.inputs.reference, pair.inputs.test);
  InputFlags &reference = pair.inputs.reference, &test = pair.inputs.test;
  if (test.input.empty()) test.input = reference.input;
  if (pair.one_clock) {
    if (reference.kind == "auto" && reference.channels.empty()) reference.kind = "ecg";
    if (test.kind == "auto" && test.channels.empty()) test.kind = "pulse";
    reference.rate = test.rate;
    if (pair.facts.criterion.empty() && reference.kind == "ecg") pair.facts.criterion = "ecg";
    if (same_sides(pair.inputs))
      throw Error(ErrorCode::usage, test.input +
                                        ": reference and test are the same; name another TEST, or what tells the "
                                        "sides of this file apart (channels, kinds, columns)");
  }
  if (pair.facts.name.empty()) pair.facts.name = base_name(test.input);
  return pair;
}

std::vector<StudyPair> pairs_of_folders(const StudyInputs& inputs) {
  const bool both = !inputs.pair.test.input.empty();
  const fs::path references = inputs.pair.reference.input;
  const fs::path tests = both ? inputs.pair.test.input : inputs.pair.reference.input;
  if (!fs::is_directory(tests))
    throw Error(ErrorCode::usage,
                "REFERENCE is a folder and TEST (" + tests.string() + ") is not; give two files or two folders");
  std::vector<StudyPair> pairs;
  const auto add = [&](const fs::path& test, const fs::path& reference) {
    PairInputs one = inputs.pair;
    one.test.input = test.string();
    one.reference.input = reference.string();
    pairs.push_back(settled(std::move(one), {}));
  };
  if (both) {
    for (const auto& [name, test] : tests_in_folder(tests))
      if (const fs::path reference = references / (name + inputs.reference_ending); fs::exists(reference))
        add(test, reference);
  } else {
    for (const ListedRecord& listed : records_in_folder(tests)) add(listed.path, listed.path);
  }
  if (pairs.empty())
    throw Error(ErrorCode::unreadable, both ? references.string() + ": holds no reference NAME" +
                                                  inputs.reference_ending + " for any record NAME of " +
                                                  tests.string() + "; see --reference-ending"
                                            : tests.string() + ": holds no recordings");
  return pairs;
}

/// A flag that a row of the study states for itself.
void take(const SheetRow& row, const char* column, std::string& flag) {
  if (std::string word = row.word(column); !word.empty()) flag = std::move(word);
}

std::string checked_kind(const Sheet& sheet, const SheetRow& row, const char* column, const std::string& otherwise) {
  const std::string kind = row.word(column);
  if (kind.empty()) return otherwise;
  if (kind != "ecg" && kind != "pulse" && kind != "auto")
    sheet.refuse(row, std::string("column ") + column + ": value '" + kind + "': is none of auto, ecg, pulse");
  return kind;
}

std::optional<double> checked_bmi(const Sheet& sheet, const SheetRow& row) {
  const auto bmi = sheet.number(row, "bmi");
  if (bmi && !(lowest_bmi <= *bmi && *bmi <= highest_bmi))
    sheet.refuse(row, "column bmi: value '" + row.word("bmi") + "': is no body mass index in kg/m2");
  return bmi;
}

/// The row above that says another sex of the same person is told beside this one's.
void check_sex(const Sheet& sheet, const SheetRow& row) {
  const std::string person = row.word("person"), sex = row.word("sex");
  if (person.empty() || sex.empty()) return;
  for (const SheetRow& above : sheet.rows) {
    if (above.line >= row.line) return;
    if (above.word("person") == person && !above.word("sex").empty() && above.word("sex") != sex)
      sheet.refuse(row, "column sex: value '" + sex + "': of " + person + " line " + std::to_string(above.line) +
                            " says '" + above.word("sex") + "'; a person has the same in every row");
  }
}

std::vector<StudyPair> pairs_of_study(const StudyInputs& inputs) {
  const Sheet sheet = read_sheet(inputs.pair.reference.input, study_columns);
  const fs::path folder =
      inputs.study_folder.empty() ? fs::path(inputs.pair.reference.input).parent_path() : fs::path(inputs.study_folder);
  std::vector<StudyPair> pairs;
  for (const SheetRow& row : sheet.rows) {
    if (row.word("test").empty()) sheet.refuse(row, "column test: names no recording");
    PairInputs one = inputs.pair;
    one.test.input = (folder / row.word("test")).string();
    one.reference.input = row.word("reference").empty() ? one.test.input : (folder / row.word("reference")).string();
    one.test.kind = checked_kind(sheet, row, "kind", inputs.pair.test.kind);
    one.reference.kind = checked_kind(sheet, row, "reference_kind", inputs.pair.reference.kind);
    if (const std::string channel = row.word("channel"); !channel.empty()) one.test.channels = {channel};
    if (const std::string channel = row.word("reference_channel"); !channel.empty()) one.reference.channels = {channel};
    take(row, "column", one.column);
    take(row, "reference_column", one.reference_column);
    if (const auto rate = sheet.number(row, "reference_rate_hz")) one.reference.reference_rate = rate;
    if (const auto start = sheet.number(row, "start_s")) one.reference.start = one.test.start = start;
    if (const auto end = sheet.number(row, "end_s")) one.reference.end = one.test.end = end;
    if (one.test.start && one.test.end && *one.test.start >= *one.test.end)
      sheet.refuse(row, "column end_s: value '" + row.word("end_s") + "': lies after start_s");
    RecordFacts facts{row.word("name"),      row.word("person"), row.word("condition"), row.word("device"),
                      row.word("skin_tone"), row.word("sex"),    row.word("criterion"), checked_bmi(sheet, row)};
    check_sex(sheet, row);
    pairs.push_back(settled(std::move(one), std::move(facts)));
  }
  return pairs;
}

}  // namespace

std::string base_name(const fs::path& path) { return path.filename().replace_extension().string(); }

std::map<std::string, fs::path> tests_in_folder(const fs::path& folder) {
  std::map<std::string, fs::path> tests;
  for (const ListedRecord& record : records_in_folder(folder)) tests.emplace(base_name(record.path), record.path);
  std::error_code failure;
  for (fs::directory_iterator entry(folder, failure), end; !failure && entry != end; entry.increment(failure))
    if (is_beat_list(entry->path()) && !is_truth_file(entry->path()))
      tests.emplace(base_name(entry->path()), entry->path());
  if (failure)
    throw Error(ErrorCode::unreadable, folder.string() + ": the folder cannot be read: " + failure.message());
  return tests;
}

bool is_study_file(const fs::path& file) {
  const std::vector<std::string> columns = sheet_columns(file);
  const auto among = [&columns](std::string_view name) {
    return std::find(columns.begin(), columns.end(), name) != columns.end();
  };
  if (among("test")) return true;
  if (std::count_if(telling_columns.begin(), telling_columns.end(), among) < 2) return false;
  std::string list;
  for (const std::string& column : columns) list += (list.empty() ? "'" : ", '") + column + "'";
  throw Error(ErrorCode::unreadable,
              file.string() + ": a study file has a column test with the recordings under test; there are " + list);
}

bool is_one_pair(const StudyInputs& inputs) {
  return !fs::is_directory(inputs.pair.reference.input) &&
         !(inputs.pair.test.input.empty() && is_study_file(inputs.pair.reference.input));
}

std::vector<StudyPair> pairs_of(const StudyInputs& inputs) {
  if (fs::is_directory(inputs.pair.reference.input)) return pairs_of_folders(inputs);
  if (!is_one_pair(inputs)) return pairs_of_study(inputs);
  return {settled(inputs.pair, {})};
}

Json settings(const StudyInputs& inputs) {
  auto options = settings(inputs.pair.test);
  options["reference"] = fs::path(inputs.pair.reference.input).lexically_normal().filename().string();
  if (inputs.pair.reference.kind != "auto") options["reference_kind"] = inputs.pair.reference.kind;
  if (!inputs.pair.reference.channels.empty()) options["reference_channels"] = inputs.pair.reference.channels;
  if (inputs.pair.reference.reference_rate) options["reference_rate_hz"] = *inputs.pair.reference.reference_rate;
  if (!inputs.pair.reference_column.empty()) options["reference_column"] = inputs.pair.reference_column;
  if (!inputs.pair.column.empty()) options["column"] = inputs.pair.column;
  return options;
}

void add_study_inputs(Command& command, StudyInputs& inputs) {
  command
      .add_option("REFERENCE", inputs.pair.reference.input,
                  "Recording, beats, annotations or, for rates, a table of them; a folder of such; or, alone, a "
                  "recording with both "
                  "sensors, a folder of such, or a study file")
      ->required()
      ->type_name("");
  command
      .add_option("TEST", inputs.pair.test.input, "The same of the sensor under test; a folder where REFERENCE is one")
      ->type_name("");
  add_time_options(command, inputs.pair.test);
  add_channel_options(command, inputs.pair.test);
  command
      .add_option("--reference-channel", inputs.pair.reference.channels,
                  "Channel of the reference, as --channel of the test")
      ->type_name("NAME")
      ->one_value_each();
  command
      .add_option("--reference-kind", inputs.pair.reference.kind,
                  "Wave of the reference; ecg where one recording holds both")
      ->check(one_of({"auto", "ecg", "pulse"}))
      ->type_name("auto|ecg|pulse")
      ->capture_default_str();
  command
      .add_option("--reference-rate", inputs.pair.reference.reference_rate,
                  "The reference lists beats as sample numbers from 0 at this rate, or is a listing of annotations")
      ->check(number_above_zero())
      ->type_name("HZ");
  command
      .add_option("--reference-ending", inputs.reference_ending,
                  "For two folders: what follows the record's name in the names of the references")
      ->type_name("TEXT")
      ->capture_default_str();
  command
      .add_option("--folder", inputs.study_folder,
                  "What paths in a study file are relative to; its own folder unless given")
      ->type_name("DIR");
}

}  // namespace pulsewright::program
