// MIT-BIH Arrhythmia Database, record by record and gross, development and test records apart and together.
#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "agreement_rows.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

void arrhythmia_table(const Request& request) {
  const std::filesystem::path folder = request.data / "arrhythmia";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".hea") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());

  print_header();
  std::vector<BeatAgreement> development, test;
  for (const std::string& name : names) {
    const bool is_development = arrhythmia_development().contains(name);
    if (!is_development && !request.test_records) continue;
    ReadOptions reading;
    reading.hash = false;
    const Recording recording = read_recording(folder / name, reading);
    const BeatFile reference = read_beats(folder / (name + ".atr"));
    FindOptions finding;
    finding.kind = KindChoice::ecg;
    finding.streaming = request.streaming;
    if (!request.all_signals) finding.channels = {0};
    const BeatTrain found = find_beats(recording, finding);
    MatchOptions matching;
    matching.exclude = reference.flutter;
    matching.tolerance = Seconds{request.tolerance_s};
    matching.skip = Seconds{request.skip_s};
    BeatAgreement agreement = match_beats(reference.beats, found, matching);
    agreement.name = name;
    if (!request.summary) print_row(agreement);
    // Failures of test records stay closed until the parameters are frozen.
    if (request.list_errors && is_development) print_errors(agreement);
    (is_development ? development : test).push_back(std::move(agreement));
  }
  print_row(pool(development, fmt::format("{} development", development.size())));
  if (!request.test_records) return;
  print_row(pool(test, fmt::format("{} test", test.size())));
  std::vector<BeatAgreement> all = development;
  all.insert(all.end(), test.begin(), test.end());
  print_row(pool(all, fmt::format("all {} (gross)", all.size())));
}

}  // namespace accuracy
