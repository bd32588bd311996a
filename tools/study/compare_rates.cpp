#include "compare_rates.hpp"

#include <algorithm>

#include "pulsewright/clean.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/stated_clocks.hpp"
#include "records/beat_list.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

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
  side.rates = heart_rate(found.beats, clean(found.beats), found.track, options);
  if (found.track) keep_confirmed(found.beats, side.rates);
  side.beats = std::move(found.beats);
  return side;
}

void keep_stretch(RateSeries& series, const InputFlags& flags) {
  std::erase_if(series.windows, [&flags](const RateWindow& window) {
    return (flags.start && window.window.start.value() < *flags.start) ||
           (flags.end && window.window.end.value() > *flags.end);
  });
}

}  // namespace

ReadSide read_side(const InputFlags& flags, const std::string& column, const RateOptions& rates) {
  const bool listed = flags.form != "recording" || flags.reference_rate || is_beat_list(flags.input);
  if (!listed && fs::is_regular_file(flags.input) && (!column.empty() || holds_rates(flags.input))) {
    ReadSide read{{read_rates(flags.input, column), std::nullopt}, clock_start_of_rates(flags.input)};
    keep_stretch(read.side.rates, flags);
    return read;
  }
  InputFlags input = flags;
  if (listed && flags.form == "recording") input.form = "beats";
  InputBeats found = beats_and_track_of(input);
  std::optional<std::string> clock_start = std::move(found.clock_start);
  return {side_of_beats(std::move(found), rates), std::move(clock_start)};
}

std::vector<ComparedRecord> compare_rates(const StudyInputs& inputs, const StudyOptions& options) {
  std::vector<ComparedRecord> records;
  for (StudyPair& pair : pairs_of(inputs)) {
    if (progress_wanted()) talk_progress(pair.facts.name);
    StudyRecord record;
    record.one_clock = pair.one_clock;
    record.facts = std::move(pair.facts);
    try {
      ReadSide reference = read_side(pair.inputs.reference, pair.inputs.reference_column, options.rates);
      ReadSide test = read_side(pair.inputs.test, pair.inputs.column, options.rates);
      record.by_clocks = offset_by_clocks(reference.clock_start, test.clock_start);
      record.reference = std::move(reference.side);
      record.test = std::move(test.side);
    } catch (const Error& error) {
      if (is_one_pair(inputs)) throw;
      record.unreadable = error.what();
    }
    records.push_back(compare_record(record, options));
  }
  if (progress_wanted()) talk_progress("");
  return records;
}

}  // namespace pulsewright::program
