#include "3_beats/unreadable.hpp"
#include "pulse_confidence.hpp"
#include "pulse_judge.hpp"
#include "pulse_wave.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright {

using namespace beats_stage;

std::vector<BeatEvidence> pulse_evidence(std::span<const Signal> signals, const PulseOptions& options) {
  std::vector<BeatEvidence> evidence;
  if (signals.empty() || signals[0].values.empty()) return evidence;
  check_same_grid(signals, "pulse_evidence");
  const Hertz rate = signals[0].rate;
  std::vector<std::span<const float>> values;
  std::vector<PulsePolarity> polarities(signals.size());
  for (std::size_t k = 0; k < signals.size(); ++k) {
    values.emplace_back(signals[k].values);
    polarities[k].learn(values.back(), rate);
  }
  const std::vector<float> wave = upright_wave(values, rate, polarities);
  for (const PulseCandidate& c : judge_pulse(wave, rate, restarts(values, rate), options)) {
    const auto features = pulse_features(c);
    const Seconds time = signals[0].start + time_of(SampleIndex{static_cast<std::int64_t>(c.at)}, rate);
    evidence.push_back({time, {features.begin(), features.end()}, c.log_odds, c.beat});
  }
  return evidence;
}

std::vector<std::string> names_of_pulse_features() {
  return {"log-odds", "likeness (spread)", "likeness around (spread)", "irregularity"};
}

}  // namespace pulsewright
