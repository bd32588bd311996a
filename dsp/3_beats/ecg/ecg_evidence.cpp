#include "3_beats/unreadable.hpp"
#include "ecg_judge.hpp"
#include "ecg_score.hpp"
#include "ecg_track.hpp"
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
  for (const EcgCandidate& c : judge_ecg(tracks, resumed, options)) {
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
  if (signals > 1) return {"for a beat", "for, as far as to be trusted", "against", "against, as far as to be trusted"};
  std::vector<std::string> names{"strength to level",
                                 "breadth to level",
                                 "likeness",
                                 "background to strength",
                                 "stronger one before",
                                 "stronger one after",
                                 "weaker one before",
                                 "weaker one after",
                                 "strength below level, squared",
                                 "likeness, fourth power",
                                 "over the usual after",
                                 "over the usual before",
                                 "the smaller of the last two",
                                 "near shape",
                                 "near shape, fourth power",
                                 "whole shape",
                                 "whole shape, fourth power",
                                 "whole energy",
                                 "whole energy, fourth power",
                                 "step",
                                 "step, squared"};
  for (std::size_t i = 0; i < plain_features; ++i) names.push_back("doubt x " + names[i]);
  names.emplace_back("doubt");
  const std::vector<std::string> in_noise{"match",
                                          "match, squared",
                                          "match alone",
                                          "match alone, fourth power",
                                          "match smaller than usual",
                                          "match larger than usual",
                                          "match beside",
                                          "match beside over match"};
  names.insert(names.end(), in_noise.begin(), in_noise.end());
  for (const std::string& name : in_noise) names.push_back("doubt x " + name);
  return names;
}

}  // namespace pulsewright
