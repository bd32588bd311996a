#include "3_beats/unreadable.hpp"
#include "ecg_judge.hpp"
#include "ecg_score.hpp"
#include "ecg_track.hpp"
#include "lead_evidence.hpp"
#include "pulsewright/beats.hpp"

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
  for (const JudgedComplex& c :
       judge_ecg(tracks, {.form = Form::whole_file, .restarts = resumed, .committed = {}, .options = options})) {
    const Seconds time = signals[0].start + Seconds{static_cast<double>(c.at) / tracks[0].rate.value()};
    BeatEvidence& e = evidence.emplace_back();
    e.time = time;
    e.log_odds = c.log_odds;
    e.accepted = c.beat;
    if (signals.size() > 1) {
      e.features.assign(c.fused.begin(), c.fused.end());
    } else {
      const auto features = ecg_features(c);
      e.features.assign(features.begin(), features.end());
    }
  }
  return evidence;
}

std::vector<std::string> names_of_ecg_features(std::size_t signals) {
  if (signals > 1) {
    const auto names = lead_feature_names();
    return {names.begin(), names.end()};
  }
  const auto names = ecg_feature_names();
  return {names.begin(), names.end()};
}

}  // namespace pulsewright
