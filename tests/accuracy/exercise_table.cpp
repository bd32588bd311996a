// Chest ECG in exercise (Wrist PPG During Exercise, Jarchi & Casson 2017, Data 2:1; PhysioNet) against the listed beats of the recording. What lies before the first
// and after the last listed beat is not scored.
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

constexpr Hertz listing_rate{256.0};
/// This far outside the listed beats a found one may still belong to them.
constexpr Seconds edge{0.1};

}  // namespace

void exercise_table(const Request& request) {
  const std::filesystem::path folder = request.data / "exercise_wrist";
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".edf") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());

  print_header();
  std::vector<BeatAgreement> development, test;
  for (std::filesystem::path& file : files) {
    const std::string name = file.stem().string();
    const bool is_development = !name.starts_with("s4");
    if (!is_development && !request.test_records) continue;
    ReadOptions reading;
    reading.hash = false;
    const Recording recording = read_recording(file, reading);
    const BeatTrain reference = read_beats(file.replace_extension(".txt"), listing_rate).beats;
    FindOptions finding;
    finding.kind = KindChoice::ecg;
    finding.streaming = request.streaming;
    MatchOptions matching;
    matching.tolerance = Seconds{request.tolerance_s};
    const std::vector<Beat> listed = reference.accepted();
    matching.exclude = {{Seconds{0}, listed.front().time - edge}, {listed.back().time + edge, recording.duration}};
    BeatAgreement agreement = match_beats(reference, find_beats(recording, finding), matching);
    agreement.name = name;
    if (!request.summary) print_row(agreement);
    if (request.list_errors && is_development) print_errors(agreement);
    (is_development ? development : test).push_back(std::move(agreement));
  }
  print_row(pool(development, fmt::format("{} development", development.size())));
  if (request.test_records) print_row(pool(test, fmt::format("{} test", test.size())));
}

}  // namespace accuracy
