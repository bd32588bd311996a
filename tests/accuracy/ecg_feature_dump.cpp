// Writes what the ECG detector measures of every candidate in the development records, with whether it was a marked beat: the input of
// fit_ecg_score.py. Usage: pulsewright_feature_dump DATA > features.csv
#include <algorithm>
#include <cstdio>
#include <exception>
#include <iostream>

#include "pulsewright/agreement.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace {

using namespace pulsewright;

void dump_record(const std::filesystem::path& folder, const std::string& name) {
  ReadOptions reading;
  reading.hash = false;
  const Recording recording = read_recording(folder / name, reading);
  const BeatFile reference = read_beats(folder / (name + ".atr"));
  const Signal signal = condition(recording.channels[0]);
  const std::vector<BeatEvidence> evidence = ecg_evidence({&signal, 1});

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
    std::printf("%s,%.4f,%d,%d", name.c_str(), e.time.value(), listed(agreement.extra, e.time) ? 0 : 1,
                e.accepted ? 1 : 0);
    for (const double f : e.features) std::printf(",%.5f", f);
    std::printf("\n");
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: pulsewright_feature_dump DATA\n";
    return 2;
  }
  try {
    for (const std::string& name : accuracy::arrhythmia_development()) {
      dump_record(std::filesystem::path{argv[1]} / "arrhythmia", name);
    }
  } catch (const std::exception& error) {
    std::cerr << "feature dump: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
