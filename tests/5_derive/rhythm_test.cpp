/// Whether a rhythm is regular: made series whose state is known, and open ECG records with marked rhythm.
#include "pulsewright/rhythm.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "1_read/open_data.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {
namespace {

BeatTrain train_of(const std::vector<double>& intervals_s, BeatSource source = BeatSource::ecg) {
  BeatTrain train;
  train.source = source;
  double time = 0.5;
  const auto add = [&] {
    Beat beat;
    beat.time = Seconds{time};
    beat.confidence = 1;
    train.candidates.push_back(beat);
  };
  add();
  for (const double s : intervals_s) {
    time += s;
    add();
  }
  train.duration = Seconds{time + 0.5};
  return train;
}

std::vector<double> breathing_heart(std::size_t count) {
  std::vector<double> s;
  for (std::size_t i = 0; i < count; ++i) s.push_back(0.85 + 0.05 * std::sin(0.9 * static_cast<double>(i)));
  return s;
}

/// Independent intervals as the ventricles have them in fibrillation: SD a quarter of the mean (common textbook picture).
std::vector<double> fibrillating_heart(std::size_t count, std::uint64_t seed) {
  std::mt19937_64 bits(seed);
  std::lognormal_distribution<double> interval(std::log(0.7), 0.25);
  std::vector<double> s;
  for (std::size_t i = 0; i < count; ++i) s.push_back(interval(bits));
  return s;
}

/// A beat early in every `each`, with a full pause behind.
std::vector<double> early_beats(std::size_t count, std::size_t each) {
  std::vector<double> s = breathing_heart(count);
  for (std::size_t i = each; i + 1 < count; i += each) {
    s[i] = 0.5;
    s[i + 1] = 1.2;
  }
  return s;
}

TEST(Rhythm, OfAHeartThatFollowsBreathingIsRegular) {
  const Rhythm found = rhythm_of(clean(train_of(breathing_heart(300))));
  EXPECT_EQ(found.state, RhythmState::regular);
  EXPECT_GT(*found.probability, 0.8);
  EXPECT_EQ(found.windows.size(), 19U);  // (300 - 30) / 15 + 1
  EXPECT_DOUBLE_EQ(found.percent[0] + found.percent[1] + found.percent[2], 100);
}

TEST(Rhythm, OfIndependentIntervalsIsIrregularThroughout) {
  const BeatTrain train = train_of(fibrillating_heart(300, 4));
  const Rhythm found = rhythm_of(clean(train));
  EXPECT_EQ(found.state, RhythmState::irregular);
  EXPECT_GT(*found.probability, 0.8);
}

TEST(Rhythm, WithEarlyBeatsIsToldApartFromBoth) {
  for (const std::size_t each : {4U, 7U})
    EXPECT_EQ(rhythm_of(clean(train_of(early_beats(300, each)))).state, RhythmState::early_beats) << each;
}

TEST(Rhythm, OfFewerThanThirtyIntervalsOrAcrossGapsIsNotJudged) {
  EXPECT_FALSE(rhythm_of(clean(train_of(breathing_heart(29)))).state);
  BeatTrain train = train_of(breathing_heart(60));
  train.unreadable.push_back({train.candidates[28].time + Seconds{0.1}, train.candidates[29].time - Seconds{0.1}});
  train.unreadable.push_back({train.candidates[50].time + Seconds{0.1}, train.candidates[51].time - Seconds{0.1}});
  const Rhythm found = rhythm_of(clean(train));
  EXPECT_TRUE(found.windows.empty());
  EXPECT_NE(found.absent.find("30 intervals"), std::string::npos);
}

TEST(Rhythm, DoesNotJudgeWindowsOfADetectorThatMissesBeats) {
  std::vector<double> s = breathing_heart(120);
  for (std::size_t i = 2; i < s.size(); i += 3) s[i] *= 2;
  const Rhythm found = rhythm_of(clean(train_of(s, BeatSource::pulse)));
  EXPECT_FALSE(found.state);
  EXPECT_GT(found.not_judged, 4U);
  EXPECT_NEAR(*found.missed_pulses_percent, 100.0 / 3, 4);
}

TEST(Rhythm, FeaturesDoNotChangeWithTheUnitOfRate) {
  // All but the first are relative: a heart twice as fast has the same.
  const std::vector<double> s = fibrillating_heart(30, 2);
  std::vector<double> slow, fast;
  for (const double value : s) {
    slow.push_back(1000 * value);
    fast.push_back(500 * value);
  }
  const auto a = rhythm_features(slow), b = rhythm_features(fast);
  EXPECT_NEAR(a[0] - b[0], std::log(2.0), 1e-12);
  for (std::size_t k = 1; k < a.size(); ++k) EXPECT_NEAR(a[k], b[k], 1e-9) << k;
  EXPECT_THROW(static_cast<void>(rhythm_features(std::vector<double>(29, 800))), Error);
}

TEST(Variability, HoldsBackWhatPresumesASinusRhythm) {
  const Variability found = variability(clean(train_of(fibrillating_heart(300, 4))));
  EXPECT_TRUE(found.mean_nn_ms && found.mean_hr_bpm && found.min_nn_ms);
  EXPECT_FALSE(found.sdnn_ms || found.rmssd_ms || found.power.hf_power_ms2 || found.sample_entropy || found.alpha1);
  const auto said = [&](const char* code) {
    return std::any_of(found.warnings.begin(), found.warnings.end(), [&](const Warning& w) { return w.code == code; });
  };
  EXPECT_TRUE(said("irregular_rhythm"));
  EXPECT_TRUE(std::any_of(found.reasons.begin(), found.reasons.end(), [](const Reason& r) {
    return r.measure == "rmssd_ms" && r.reason.find("irregular throughout") != std::string::npos;
  }));
  VariabilityOptions all;
  all.most_irregular_percent = 101;
  EXPECT_TRUE(variability(clean(train_of(fibrillating_heart(300, 4))), all).sdnn_ms);
}

// MIT-BIH Arrhythmia Database (Moody & Mark 2001), development records: 203 fibrillates throughout, 101 hardly has an early beat, 119 has
// hundreds of ventricular ones.
struct Marked {
  const char* record;
  RhythmState state;
};
class OpenRecords : public ::testing::TestWithParam<Marked> {};

TEST_P(OpenRecords, HaveTheStateOfTheirMarks) {
  const auto data = read_tests::open_data("arrhythmia");
  if (!data) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  BeatTrain train = read_beats(*data / (std::string(GetParam().record) + ".atr")).beats;
  for (Beat& beat : train.candidates) beat.label = BeatLabel::unlabelled;  // from intervals alone
  EXPECT_EQ(rhythm_of(clean(train)).state, GetParam().state);
}

INSTANTIATE_TEST_SUITE_P(Arrhythmia, OpenRecords,
                         ::testing::Values(Marked{"203", RhythmState::irregular}, Marked{"101", RhythmState::regular},
                                           Marked{"119", RhythmState::early_beats}),
                         [](const auto& one) { return std::string("Record") + one.param.record; });

}  // namespace
}  // namespace pulsewright
