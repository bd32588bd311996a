#include "ecg_judge.hpp"
#include "ecg_score.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"
#include "unreadable.hpp"

namespace pulsewright {

using namespace beats_stage;

std::vector<BeatEvidence> ecg_evidence(std::span<const Signal> signals, const EcgOptions& options) {
  std::vector<BeatEvidence> evidence;
  if (signals.empty() || signals[0].values.empty()) return evidence;
  check_same_grid(signals, "ecg_evidence");
  std::vector<EcgTrack> tracks;
  for (const Signal& signal : signals) {
    EcgTracker tracker{signal.rate};
    tracks.push_back(tracker.empty_track());
    tracker.push(signal.values, tracks.back());
    tracker.finish(tracks.back());
  }
  std::vector<std::span<const float>> values;
  for (const Signal& signal : signals) values.emplace_back(signal.values);
  std::vector<std::size_t> resumed = restarts(values, signals[0].rate);
  for (std::size_t& at : resumed) at /= static_cast<std::size_t>(tracks[0].step);
  for (const EcgCandidate& c : judge_ecg(tracks, resumed, options)) {
    const auto features = ecg_features(c);
    const Seconds time = signals[0].start + Seconds{static_cast<double>(c.at) / tracks[0].rate.value()};
    evidence.push_back({time, {features.begin(), features.end()}, c.log_odds, c.beat});
  }
  return evidence;
}

std::vector<std::string> names_of_ecg_features() {
  return {"strength to level",          "breadth to level",     "likeness",
          "background to strength",     "stronger one before",  "stronger one after",
          "weaker one before",          "weaker one after",     "strength below level, squared",
          "likeness, fourth power",     "over the usual after", "over the usual before",
          "the smaller of the last two"};
}

}  // namespace pulsewright
