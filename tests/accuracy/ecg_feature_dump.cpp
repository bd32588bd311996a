// Writes what the ECG detector measures of every candidate in the development records, with whether it was a marked beat: the input of
// fit_ecg_score.py. First signal, bare and with noise added; or with "all" every signal together, bare.
// Usage: pulsewright_feature_dump DATA [all] > features.csv
#include <algorithm>
#include <cstdio>
#include <exception>
#include <iostream>
#include <random>
#include <span>
#include <string>
#include <vector>

#include "noise_mixing.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace {

using namespace pulsewright;

// A noise that is added to a record; no samples: none.
struct Added {
  std::string name;
  std::vector<float> noise;
  double snr_db = 0;
};

// Prints the evidence of some signals of one record. `label` names the record and what was added to it.
void dump(const std::string& label, std::span<const Signal> signals, const BeatFile& reference) {
  const std::vector<BeatEvidence> evidence = ecg_evidence(signals);

  // Every candidate as a test beat: those that find a partner are beats.
  BeatTrain all;
  for (const BeatEvidence& e : evidence) all.candidates.emplace_back().time = e.time;
  MatchOptions matching;
  matching.exclude = reference.flutter;
  const BeatAgreement agreement = match_beats(reference.beats, all, matching);
  const auto listed = [](const std::vector<Seconds>& times, Seconds t) {
    return std::binary_search(times.begin(), times.end(), t);
  };
  const auto in_flutter = [&](Seconds t) {
    return std::any_of(reference.flutter.begin(), reference.flutter.end(),
                       [&](const Span& s) { return s.contains(t); });
  };
  for (const BeatEvidence& e : evidence) {
    if (in_flutter(e.time)) continue;
    std::printf("%s,%.4f,%d,%d", label.c_str(), e.time.value(), listed(agreement.extra, e.time) ? 0 : 1,
                e.accepted ? 1 : 0);
    for (const double f : e.features) std::printf(",%.5f", f);
    std::printf("\n");
  }
}

void dump_record(const std::filesystem::path& path, bool all_signals, const std::vector<Added>& noises) {
  const std::string name = path.filename().string();
  ReadOptions reading;
  reading.hash = false;
  const Recording bare = read_recording(path, reading);
  const BeatFile reference = read_beats(path.string() + ".atr");
  if (all_signals) {
    const std::vector<Signal> signals{condition(bare.channels[0]), condition(bare.channels[1])};
    dump(name, signals, reference);
    return;
  }
  for (const Added& added : noises) {
    Recording recording = bare;
    if (!added.noise.empty()) {
      std::mt19937 random{static_cast<unsigned>(std::stoi(name))};  // where in the noise the record begins
      accuracy::mix(recording, added.noise, random() % added.noise.size(),
                    accuracy::qrs_power(recording.channels[0], reference.beats), added.snr_db);
    }
    const Signal signal = condition(recording.channels[0]);
    dump(name + added.name, {&signal, 1}, reference);
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2 && argc != 3) {
    std::cerr << "usage: pulsewright_feature_dump DATA [all]\n";
    return 2;
  }
  try {
    const std::filesystem::path data = argv[1];
    const std::vector<float> motion = accuracy::electrode_motion(data);
    const std::vector<Added> noises{{},
                                    {"em3", motion, 3},
                                    {"em-3", motion, -3},
                                    {"em-9", motion, -9},
                                    {"ma6", accuracy::noise_of(data, "ma"), 6},
                                    {"ma-3", accuracy::noise_of(data, "ma"), -3},
                                    {"bw0", accuracy::noise_of(data, "bw"), 0}};
    std::printf("record,time_s,is_beat,accepted");
    for (const std::string& name : names_of_ecg_features(argc == 3 ? 2 : 1)) std::printf(",%s", name.c_str());
    std::printf("\n");
    for (const std::string& name : accuracy::arrhythmia_development())
      dump_record(data / "arrhythmia" / name, argc == 3, noises);
  } catch (const std::exception& error) {
    std::cerr << "feature dump: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
