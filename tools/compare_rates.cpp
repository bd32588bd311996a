#include "compare_rates.hpp"

#include <algorithm>

#include "beat_list.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "record_list.hpp"
#include "sheet_file.hpp"
#include "standard_streams.hpp"

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

std::string base_name(const fs::path& path) { return path.filename().replace_extension().string(); }

/// Beats serve alignment only where a rate stands on them.
void keep_confirmed(BeatTrain& beats, const RateSeries& rates) {
  std::vector<Span> confirmed;
  for (const RateWindow& window : rates.windows)
    if (window.method == RateMethod::beats) confirmed.push_back(window.window);
  std::erase_if(beats.candidates, [&confirmed](const Beat& beat) {
    const auto after = std::upper_bound(confirmed.begin(), confirmed.end(), beat.time,
                                        [](Seconds time, const Span& span) { return time < span.start; });
    return after == confirmed.begin() || !(after - 1)->contains(beat.time);
  });
}

RateSide side_of_beats(InputBeats found, const RateOptions& options) {
  RateSide side;
  side.rates = rate_over_windows(found.beats, clean(found.beats), options);
  if (found.track) {
    side.rates = join_rates(std::move(side.rates), *found.track);
    keep_confirmed(found.beats, side.rates);
  }
  side.beats = std::move(found.beats);
  return side;
}

void keep_stretch(RateSeries& series, const InputFlags& flags) {
  std::erase_if(series.windows, [&flags](const RateWindow& window) {
    return (flags.start && window.window.start.value() < *flags.start) ||
           (flags.end && window.window.end.value() > *flags.end);
  });
}

bool same_recording(const InputFlags& a, const InputFlags& b) {
  std::error_code ignored;
  return b.input.empty() || a.input == b.input || fs::equivalent(a.input, b.input, ignored);
}

/// Reads both sides of one record and compares them.
ComparedRecord compare_one(CompareRateInputs pair, RecordFacts facts, const StudyOptions& options, bool only_one) {
  StudyRecord record;
  record.one_clock = same_recording(pair.reference, pair.test);
  if (pair.test.input.empty()) pair.test.input = pair.reference.input;
  if (record.one_clock) {
    // Neither side may see the other's channels.
    if (pair.reference.kind == "auto" && pair.reference.channels.empty()) pair.reference.kind = "ecg";
    if (pair.test.kind == "auto" && pair.test.channels.empty()) pair.test.kind = "pulse";
    pair.reference.rate = pair.test.rate;
    if (facts.criterion.empty() && pair.reference.kind == "ecg") facts.criterion = "ecg";
  }
  if (facts.name.empty()) facts.name = base_name(pair.test.input);
  record.facts = std::move(facts);
  try {
    record.reference = read_side(pair.reference, pair.reference_column, options.rates);
    record.test = read_side(pair.test, pair.column, options.rates);
  } catch (const Error& error) {
    if (only_one) throw;
    record.unreadable = error.what();
  }
  return compare_record(record, options);
}

std::vector<ComparedRecord> compare_folder(const CompareRateInputs& inputs, const StudyOptions& options) {
  const bool both = !inputs.test.input.empty();
  const fs::path references = inputs.reference.input, tests = both ? inputs.test.input : inputs.reference.input;
  if (!fs::is_directory(tests))
    throw Error(ErrorCode::usage,
                "REFERENCE is a folder and TEST (" + tests.string() + ") is not; give two files or two folders");
  std::vector<ComparedRecord> records;
  for (const ListedRecord& listed : records_in_folder(tests)) {
    CompareRateInputs one = inputs;
    one.test.input = listed.path.string();
    one.reference.input =
        both ? (references / (base_name(listed.path) + inputs.reference_ending)).string() : one.test.input;
    if (!fs::exists(one.reference.input) && both) continue;
    if (progress_wanted()) talk_progress(listed.name);
    records.push_back(compare_one(std::move(one), {}, options, false));
  }
  if (progress_wanted()) talk_progress("");
  if (records.empty())
    throw Error(ErrorCode::unreadable, both ? references.string() + ": holds no reference NAME" +
                                                  inputs.reference_ending + " for any record NAME of " +
                                                  tests.string() + "; see --reference-ending"
                                            : tests.string() + ": holds no recordings");
  return records;
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

std::vector<ComparedRecord> compare_study(const CompareRateInputs& inputs, const StudyOptions& options) {
  const Sheet sheet = read_sheet(inputs.reference.input, study_columns);
  const fs::path folder =
      inputs.study_folder.empty() ? fs::path(inputs.reference.input).parent_path() : fs::path(inputs.study_folder);
  std::vector<ComparedRecord> records;
  for (const SheetRow& row : sheet.rows) {
    if (row.word("test").empty()) sheet.refuse(row, "column test: names no recording");
    CompareRateInputs one = inputs;
    one.test.input = (folder / row.word("test")).string();
    one.reference.input = row.word("reference").empty() ? one.test.input : (folder / row.word("reference")).string();
    one.test.kind = checked_kind(sheet, row, "kind", inputs.test.kind);
    one.reference.kind = checked_kind(sheet, row, "reference_kind", inputs.reference.kind);
    if (const std::string channel = row.word("channel"); !channel.empty()) one.test.channels = {channel};
    if (const std::string channel = row.word("reference_channel"); !channel.empty()) one.reference.channels = {channel};
    take(row, "column", one.column);
    take(row, "reference_column", one.reference_column);
    if (const auto rate = sheet.number(row, "reference_rate_hz")) one.reference.reference_rate = rate;
    if (const auto start = sheet.number(row, "start_s")) one.reference.start = one.test.start = start;
    if (const auto end = sheet.number(row, "end_s")) one.reference.end = one.test.end = end;
    RecordFacts facts{row.word("name"),      row.word("person"), row.word("condition"), row.word("device"),
                      row.word("skin_tone"), row.word("sex"),    row.word("criterion"), sheet.number(row, "bmi")};
    if (progress_wanted()) talk_progress(row.word("test"));
    records.push_back(compare_one(std::move(one), std::move(facts), options, false));
  }
  if (progress_wanted()) talk_progress("");
  return records;
}

}  // namespace

RateSide read_side(const InputFlags& flags, const std::string& column, const RateOptions& rates) {
  const bool listed = flags.form != "recording" || flags.reference_rate || is_beat_list(flags.input);
  if (!listed && fs::is_regular_file(flags.input) && (!column.empty() || holds_rates(flags.input))) {
    RateSide side;
    side.rates = read_rates(flags.input, column);
    keep_stretch(side.rates, flags);
    return side;
  }
  InputFlags input = flags;
  if (listed && flags.form == "recording") input.form = "beats";
  return side_of_beats(beats_and_track_of(input), rates);
}

std::vector<ComparedRecord> compare_rates(const CompareRateInputs& inputs, const StudyOptions& options) {
  if (fs::is_directory(inputs.reference.input)) return compare_folder(inputs, options);
  if (inputs.test.input.empty() && is_sheet_with(inputs.reference.input, {"test"}))
    return compare_study(inputs, options);
  std::vector<ComparedRecord> records;
  records.push_back(compare_one(inputs, {}, options, true));
  return records;
}

nlohmann::ordered_json settings(const CompareRateInputs& inputs) {
  auto options = settings(inputs.test);
  options["reference"] = fs::path(inputs.reference.input).lexically_normal().filename().string();
  if (inputs.reference.kind != "auto") options["reference_kind"] = inputs.reference.kind;
  if (!inputs.reference.channels.empty()) options["reference_channels"] = inputs.reference.channels;
  if (inputs.reference.reference_rate) options["reference_rate_hz"] = *inputs.reference.reference_rate;
  if (!inputs.reference_column.empty()) options["reference_column"] = inputs.reference_column;
  if (!inputs.column.empty()) options["column"] = inputs.column;
  return options;
}

}  // namespace pulsewright::program
