// Anaesthesia recordings (CapnoBase respiratory-rate benchmark, Karlen et al. 2013, IEEE TBME 60:1946): pulse peaks and ECG peaks marked by a
// human rater, outside the marked artefact spans.
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

namespace {

constexpr Hertz case_rate{300.0};

const std::set<std::string>& development_cases() {
  static const std::set<std::string> cases = {"0009", "0016", "0018", "0023", "0028", "0029"};
  return cases;
}

}  // namespace

void anaesthesia_table(const Request& request, bool pulse) {
  const std::filesystem::path folder = request.data / "anaesthesia_pulse";
  const std::string wave = pulse ? "pulse" : "ecg";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string stem = entry.path().stem().string();
    if (entry.path().extension() == ".csv" && stem.size() == 4) names.push_back(stem);
  }
  std::sort(names.begin(), names.end());

  print_header();
  std::vector<BeatAgreement> development, test;
  for (const std::string& name : names) {
    const bool is_development = development_cases().contains(name);
    if (!is_development && !request.test_records) continue;
    ReadOptions reading;
    reading.hash = false;
    reading.rate = case_rate;
    const Recording recording = read_recording(folder / (name + ".csv"), reading);
    const BeatFile reference = read_beats(folder / (name + "_" + wave + "_peaks.txt"), case_rate);
    FindOptions finding;
    finding.kind = pulse ? KindChoice::pulse : KindChoice::ecg;
    finding.streaming = request.streaming;
    MatchOptions matching;
    matching.tolerance = Seconds{request.tolerance_s};
    matching.skip = Seconds{request.skip_s};
    const auto spans = folder / (name + "_" + wave + "_artefact_spans.txt");
    if (std::filesystem::exists(spans)) matching.exclude = read_spans(spans, case_rate);
    BeatAgreement agreement = match_beats(reference.beats, find_beats(recording, finding), matching);
    agreement.name = name;
    if (!request.summary) print_row(agreement);
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
