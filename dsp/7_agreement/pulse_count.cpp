#include "pulsewright/pulse_count.hpp"

#include <cmath>
#include <map>
#include <utility>

#include "pulsewright/error.hpp"

namespace pulsewright {

const char* to_string(CountStart start) { return start == CountStart::on_a_beat ? "beat" : "moment"; }

ScoredCount score_count(const SheetCount& count, const BeatTrain& beats) {
  if (!(count.length > Seconds{0}) || count.counted < 0)
    throw Error{ErrorCode::contract, "score_count: a count takes some time and is not negative"};
  ScoredCount result;
  result.count = count;
  result.by_count = BeatsPerMinute{60.0 * count.counted / count.length.value()};
  const Span span{count.start, count.start + count.length};
  std::vector<Seconds> inside;
  for (const Seconds time : beats.times())
    if (span.contains(time)) inside.push_back(time);
  constexpr std::size_t fewest = 3;
  if (span.end > beats.duration + Seconds{1}) {
    result.reason = "the recording ends before the count does";
  } else if (inside.size() < fewest) {
    result.reason = "fewer than three beats were found in that time";
  } else {
    result.recorded =
        BeatsPerMinute{60.0 * static_cast<double>(inside.size() - 1) / (inside.back() - inside.front()).value()};
    result.difference_bpm = (result.by_count - *result.recorded).value();
  }
  return result;
}

CountStudy count_study(std::vector<ScoredCount> counts) {
  CountStudy study;
  study.counts = std::move(counts);
  struct Sums {
    std::size_t counts = 0;
    double measured = 0, sum = 0, squares = 0;
  };
  std::map<std::pair<double, CountStart>, Sums> groups;
  for (const ScoredCount& c : study.counts) {
    Sums& sums = groups[{c.count.length.value(), c.count.began}];
    ++sums.counts;
    if (!c.difference_bpm) continue;
    sums.measured += 1;
    sums.sum += *c.difference_bpm;
    sums.squares += *c.difference_bpm * *c.difference_bpm;
    constexpr double beats_off = 2;
    const double beat = 60 / c.count.length.value();
    if (std::abs(*c.difference_bpm) > beats_off * beat)
      study.warnings.push_back({"miscounted", c.count.code + " is off by more than two beats in " + c.count.recording +
                                                  ": is it the right recording and time?"});
  }
  for (const auto& [key, sums] : groups) {
    CountGroup group;
    group.length = Seconds{key.first};
    group.began = key.second;
    group.counts = sums.counts;
    group.beat_bpm = 60 / key.first;
    const bool on_beat = key.second == CountStart::on_a_beat;
    group.expected_bias_bpm = on_beat ? -0.5 * group.beat_bpm : 0;
    group.expected_rms_bpm = group.beat_bpm / std::sqrt(on_beat ? 3.0 : 6.0);
    if (sums.measured > 0) {
      group.found_bias_bpm = sums.sum / sums.measured;
      group.found_rms_bpm = std::sqrt(sums.squares / sums.measured);
    }
    study.groups.push_back(group);
  }
  return study;
}

}  // namespace pulsewright
