// MIT-BIH Arrhythmia Database, record by record and gross, development and test records apart and together.
#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

const std::set<std::string>& arrhythmia_development() {
  // The training half of de Chazal et al. 2004 (IEEE TBME 51:1196), and the paced records.
  static const std::set<std::string> records = {"101", "106", "108", "109", "112", "114", "115", "116", "118",
                                                "119", "122", "124", "201", "203", "205", "207", "208", "209",
                                                "215", "220", "223", "230", "102", "104", "107", "217"};
  return records;
}

namespace {

void print_row(const BeatAgreement& a) {
  const auto cell = [](std::optional<double> v, int decimals) { return v ? fmt::format("{:.{}f}", *v, decimals) : ""; };
  std::cout << fmt::format("| {:<22} | {:>6} | {:>4} | {:>4} | {:>7} | {:>7} | {:>6} | {:>6} | {:>5} |\n", a.name,
                           a.true_positives + a.false_negatives, a.false_negatives, a.false_positives,
                           cell(a.sensitivity_percent(), 3), cell(a.positive_predictivity_percent(), 3),
                           cell(a.error_rate_percent(), 3), cell(a.bias_ms(), 1), cell(a.sd_ms(), 1));
}

}  // namespace

void arrhythmia_table(const Request& request) {
  const std::filesystem::path folder = request.data / "arrhythmia";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".hea") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());

  std::cout << "| record                 |  beats |   FN |   FP |    Se % |    +P % |  DER % | bias ms | SD ms |\n"
               "|---|---|---|---|---|---|---|---|---|\n";
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
    matching.skip = Seconds{request.skip_s};
    BeatAgreement agreement = match_beats(reference.beats, found, matching);
    agreement.name = name;
    print_row(agreement);
    // Failures of test records stay closed until the parameters are frozen.
    if (request.list_errors && is_development) {
      for (const Seconds t : agreement.missed) std::cout << fmt::format("  missed {:.3f}\n", t.value());
      for (const Seconds t : agreement.extra) std::cout << fmt::format("  extra  {:.3f}\n", t.value());
    }
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
