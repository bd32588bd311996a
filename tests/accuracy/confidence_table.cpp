// How often beats of a stated confidence are beats: the reliability of confidence on the test records of the MIT-BIH Arrhythmia Database.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <iostream>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

constexpr std::array<double, 12> edges{0.0, 0.001, 0.01, 0.05, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999, 1.0};

struct Bin {
  std::int64_t candidates = 0, beats = 0;
  double confidence = 0;  // sum
};
using Bins = std::array<Bin, edges.size() - 1>;

void add(Bins& bins, double confidence, bool is_beat) {
  std::size_t b = 0;
  while (b + 1 < bins.size() && confidence >= edges[b + 1]) ++b;
  ++bins[b].candidates;
  bins[b].beats += is_beat ? 1 : 0;
  bins[b].confidence += confidence;
}

void print(const char* title, const Bins& bins) {
  std::cout << fmt::format("| {:<19} | candidates | mean confidence % | beats %  |\n", title)
            << "|---------------------|------------|-------------------|----------|\n";
  for (std::size_t b = 0; b < bins.size(); ++b) {
    const Bin& bin = bins[b];
    if (bin.candidates == 0) continue;
    const auto n = static_cast<double>(bin.candidates);
    std::cout << fmt::format("| {:>7g} to {:<8g} | {:>10} | {:>17.3f} | {:>8.3f} |\n", edges[b], edges[b + 1],
                             bin.candidates, 100.0 * bin.confidence / n, 100.0 * static_cast<double>(bin.beats) / n);
  }
  std::cout << '\n';
}

bool listed(const std::vector<Seconds>& times, Seconds t) { return std::binary_search(times.begin(), times.end(), t); }

}  // namespace

void confidence_table(const Request& request) {
  const std::filesystem::path folder = request.data / "arrhythmia";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".hea") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());

  Bins accepted{}, rejected{};
  for (const std::string& name : names) {
    // Test records, or development records where those are asked for.
    if (arrhythmia_development().contains(name) == request.test_records) continue;
    ReadOptions reading;
    reading.hash = false;
    const BeatFile reference = read_beats(folder / (name + ".atr"));
    FindOptions finding;
    finding.kind = KindChoice::ecg;
    finding.streaming = request.streaming;
    if (!request.all_signals) finding.channels = {0};
    const BeatTrain found = find_beats(read_recording(folder / name, reading), finding);

    // Every candidate as a test beat: those that find a partner among the marks are beats.
    BeatTrain all = found;
    all.unreadable.clear();
    for (Beat& beat : all.candidates) beat.verdict = BeatVerdict::accepted;
    MatchOptions matching;
    matching.exclude = reference.flutter;
    const BeatAgreement agreement = match_beats(reference.beats, all, matching);
    for (const Beat& beat : found.candidates) {
      const bool in_flutter = std::any_of(reference.flutter.begin(), reference.flutter.end(),
                                          [&](const Span& s) { return s.contains(beat.time); });
      if (in_flutter) continue;
      add(beat.verdict == BeatVerdict::accepted ? accepted : rejected, beat.confidence,
          !listed(agreement.extra, beat.time));
    }
  }
  print("accepted", accepted);
  print("rejected", rejected);
}

}  // namespace accuracy
