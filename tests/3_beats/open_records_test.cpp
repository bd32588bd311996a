// Detection on published, annotated recordings. The bounds are the first issue's: ECG Se and +P at least 99.5 % over 48 records (first signal,
// whole 30 min, 150 ms); pulse peaks Se and +P at least 99.8 % outside marked artefact spans. The tables are printed by tests/accuracy.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "1_read/open_data.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;

void print(const BeatAgreement& a) {
  std::cout << a.name << ": " << a.true_positives + a.false_negatives << " beats, missed " << a.false_negatives
            << ", extra " << a.false_positives << ", Se " << *a.sensitivity_percent() << " %, +P "
            << *a.positive_predictivity_percent() << " %\n";
}

TEST(OpenRecords, EcgBeatsOfTheArrhythmiaDatabaseAreFound) {
  // Moody & Mark 2001, IEEE Eng Med Biol 20:45; scored after ANSI/AAMI EC57 [from memory], learning time included.
  const auto folder = read_tests::open_data("arrhythmia");
  if (!folder) GTEST_SKIP() << "skipped: open data set `arrhythmia` is not there";
  std::vector<BeatAgreement> records;
  for (const auto& entry : std::filesystem::directory_iterator(*folder)) {
    if (entry.path().extension() != ".hea") continue;
    std::filesystem::path record = entry.path();
    const BeatFile reference = read_beats(record.replace_extension(".atr"));
    FindOptions options;
    options.kind = KindChoice::ecg;
    options.channels = {0};
    MatchOptions matching;
    matching.exclude = reference.flutter;
    records.push_back(
        match_beats(reference.beats, find_beats(read_recording(record.replace_extension()), options), matching));
  }
  ASSERT_EQ(records.size(), 48U);
  const BeatAgreement gross = pool(records, "48 records, first signal");
  print(gross);
  EXPECT_GE(*gross.sensitivity_percent(), 99.5);
  EXPECT_GE(*gross.positive_predictivity_percent(), 99.5);
}

TEST(OpenRecords, EcgBeatsAreFoundUnderElectrodeMotionAsStrongAsTheyAre) {
  // Moody et al. 1984, Comput Cardiol 11:381 [from memory]; noise from 5 min on, two minutes on, two off. Scored over the noisy stretches.
  const auto folder = read_tests::open_data("noise_stress");
  if (!folder) GTEST_SKIP() << "skipped: open data set `noise_stress` is not there";
  struct Bound {
    const char* record;
    double percent;
  };
  for (const Bound& bound : {Bound{"118e24", 99.8}, Bound{"118e12", 99.0}, Bound{"118e00", 80.0}}) {
    const Recording recording = read_recording(*folder / bound.record);
    MatchOptions matching;
    matching.exclude = {{Seconds{0}, Seconds{300}}};
    for (double t = 420; t < recording.duration.value(); t += 240)
      matching.exclude.push_back({Seconds{t}, std::min(Seconds{t + 120}, recording.duration)});
    FindOptions options;
    options.channels = {0};
    const BeatAgreement a = match_beats(read_beats(*folder / (std::string{bound.record} + ".atr")).beats,
                                        find_beats(recording, options), matching);
    EXPECT_GE(*a.sensitivity_percent(), bound.percent) << bound.record;
    EXPECT_GE(*a.positive_predictivity_percent(), bound.percent) << bound.record;
  }
}

TEST(OpenRecords, PulsePeaksOfTheAnaesthesiaRecordingsAreFound) {
  // Karlen et al. 2013, IEEE TBME 60:1946; sampled at 300 Hz.
  const auto folder = read_tests::open_data("anaesthesia_pulse");
  if (!folder) GTEST_SKIP() << "skipped: open data set `anaesthesia_pulse` is not there";
  std::vector<BeatAgreement> cases;
  for (const auto& entry : std::filesystem::directory_iterator(*folder)) {
    const std::string name = entry.path().stem().string();
    if (entry.path().extension() != ".csv" || name.size() != 4) continue;
    ReadOptions reading;
    reading.rate = Hertz{300};
    FindOptions options;
    options.kind = KindChoice::pulse;
    MatchOptions matching;
    const auto spans = *folder / (name + "_pulse_artefact_spans.txt");
    if (std::filesystem::exists(spans)) matching.exclude = read_spans(spans, Hertz{300});
    const BeatFile reference = read_beats(*folder / (name + "_pulse_peaks.txt"), Hertz{300});
    cases.push_back(match_beats(reference.beats, find_beats(read_recording(entry.path(), reading), options), matching));
  }
  ASSERT_EQ(cases.size(), 12U);
  const BeatAgreement gross = pool(cases, "12 cases, pulse peaks");
  print(gross);
  EXPECT_GE(*gross.sensitivity_percent(), 99.8);
  EXPECT_GE(*gross.positive_predictivity_percent(), 99.8);
}

}  // namespace
