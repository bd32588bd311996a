#include "pulsewright/rate.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace pulsewright {
namespace {

BeatTrain train_at(const std::vector<double>& times, double duration, double confidence = 0.999) {
  BeatTrain train;
  for (const double t : times) {
    Beat beat;
    beat.time = Seconds{t};
    beat.sample = SampleIndex{std::llround(t * 1000.0)};
    beat.confidence = confidence;
    train.candidates.push_back(beat);
  }
  train.duration = Seconds{duration};
  train.source = BeatSource::ecg;
  return train;
}

std::vector<double> regular(double from, double to, double interval) {
  std::vector<double> times;
  for (int k = 0; from + k * interval < to; ++k) times.push_back(from + k * interval);
  return times;
}

RateSeries rates_of(const BeatTrain& train, const RateOptions& options = {}) {
  return rate_over_windows(train, clean(train), options);
}

TEST(RateOverWindows, AreFullWindowsFromZeroEveryStep) {
  const RateSeries rates = rates_of(train_at(regular(0.2, 21.0, 0.75), 21.0));
  ASSERT_EQ(rates.windows.size(), 7u);
  for (std::size_t k = 0; k < rates.windows.size(); ++k) {
    EXPECT_DOUBLE_EQ(rates.windows[k].window.start.value(), 2.0 * static_cast<double>(k));
    EXPECT_DOUBLE_EQ(rates.windows[k].window.length().value(), 8.0);
  }
}

TEST(RateOverWindows, CountIntervalsBetweenFirstAndLastBeatOfTheHalfOpenWindow) {
  // Beats at 0, 1, ..., 7, 8: the beat at 8.0 s is not in [0, 8).
  std::vector<double> times = regular(0.0, 8.5, 1.0);
  times[7] = 7.25;
  const RateSeries rates = rates_of(train_at(times, 9.0));
  ASSERT_EQ(rates.windows.size(), 1u);
  EXPECT_DOUBLE_EQ(rates.windows[0].rate->value(), 60.0 * 7.0 / 7.25);
  EXPECT_EQ(rates.windows[0].method, RateMethod::beats);
}

TEST(RateOverWindows, ARegularTrainHasItsRateInEveryWindowInsideANarrowInterval) {
  for (const double bpm : {30.0, 48.0, 75.0, 120.0, 200.0}) {
    const RateSeries rates = rates_of(train_at(regular(0.1, 120.0, 60.0 / bpm), 120.0));
    EXPECT_GT(rates.windows.size(), 50u);
    for (const RateWindow& w : rates.windows) {
      ASSERT_TRUE(w.rate) << bpm;
      EXPECT_NEAR(w.rate->value(), bpm, 1e-9);
      EXPECT_LE(*w.low, *w.rate);
      EXPECT_GE(*w.high, *w.rate);
      EXPECT_LT((*w.high - *w.low).value(), 0.01 * bpm);
      EXPECT_GT(*w.confidence, 0.99);
      EXPECT_LE(*w.confidence, 1.0);
    }
  }
}

TEST(RateOverWindows, TheIntervalIsWiderForPulseThanForEcgAndForDoubtfulBeats) {
  BeatTrain ecg = train_at(regular(0.1, 60.0, 0.5), 60.0);
  BeatTrain pulse = ecg;
  pulse.source = BeatSource::pulse;
  const auto width = [](const BeatTrain& train) {
    const RateWindow w = rates_of(train).windows[5];
    return (*w.high - *w.low).value();
  };
  EXPECT_NEAR(width(pulse) / width(ecg), 10.0 / 6.0, 0.01);
  BeatTrain doubtful = train_at(regular(0.1, 60.0, 0.5), 60.0, 0.9);
  EXPECT_LT(*rates_of(doubtful).windows[5].confidence, *rates_of(ecg).windows[5].confidence);
  EXPECT_GT(*rates_of(doubtful).windows[5].confidence, 0.80);
}

TEST(RateOverWindows, TheTimingErrorIsCarriedThroughTheFormula) {
  // 121 beats at 0.5 s: with an ECG's 6 ms at either end of 7.5 s, SD = 120 * sqrt(2) * 0.006 / 7.5 beats/min.
  const RateWindow w = rates_of(train_at(regular(0.1, 60.6, 0.5), 60.0, 1.0)).windows[5];
  const double sd = 120.0 * std::sqrt(2.0) * 0.006 / 7.5;
  EXPECT_NEAR((*w.high - *w.rate).value(), 1.959964 * sd, 1e-4);
  EXPECT_NEAR((*w.rate - *w.low).value(), 1.959964 * sd, 1e-4);
}

TEST(RateOverWindows, AWindowWithAMissedBeatNeverGivesAWrongRateWithConfidence) {
  std::vector<double> times = regular(0.1, 60.0, 0.75);
  times.erase(times.begin() + 40);  // at 30.1 s
  const RateSeries rates = rates_of(train_at(times, 60.0));
  int absent = 0, confident = 0;
  for (const RateWindow& w : rates.windows) {
    if (!w.rate) ++absent;
    if (w.rate && *w.confidence > 0.5) {
      ++confident;
      EXPECT_NEAR(w.rate->value(), 80.0, 5.0);
    }
    const bool inside = w.window.start.value() < 29.3 && w.window.end.value() > 30.9;
    EXPECT_EQ(w.rate.has_value(), !inside) << w.window.start.value();
  }
  EXPECT_GT(absent, 0);
  EXPECT_GT(confident, 15);
}

TEST(RateOverWindows, EarlyBeatsWithTheirPausesLeaveADoubtfulTrainItsRate) {
  std::vector<double> times = regular(0.1, 60.0, 0.75);
  for (const std::size_t early : {40u, 44u}) times[early] -= 0.2;  // at 30.1 and 33.1 s
  const RateWindow around = rates_of(train_at(times, 60.0, 0.8)).windows[14];
  ASSERT_TRUE(around.rate);
  EXPECT_NEAR(around.rate->value(), 80.0, 0.5);
  EXPECT_LT(*around.confidence, 0.8);
}

TEST(RateOverWindows, AnExtraDetectionNeverGivesAWrongRateWithConfidence) {
  std::vector<double> times = regular(0.1, 60.0, 0.75);
  times.insert(times.begin() + 41, times[40] + 0.3);
  int confident = 0;
  for (const RateWindow& w : rates_of(train_at(times, 60.0)).windows)
    if (w.rate && *w.confidence > 0.5) {
      ++confident;
      EXPECT_NEAR(w.rate->value(), 80.0, 5.0);
    }
  EXPECT_GT(confident, 15);
}

TEST(RateOverWindows, InALongWindowOneMissedBeatWidensTheIntervalToReachTheTruth) {
  std::vector<double> times = regular(0.1, 120.0, 0.75);
  times.erase(times.begin() + 80);
  RateOptions options;
  options.window = 30_s;
  const RateSeries rates = rates_of(train_at(times, 120.0), options);
  bool reached = false;
  for (const RateWindow& w : rates.windows) {
    ASSERT_TRUE(w.rate);
    EXPECT_LE(w.low->value(), 80.0 + 1e-6);
    EXPECT_GE(w.high->value(), 80.0 - 1e-6);
    reached = reached || w.rate->value() < 79.0;
  }
  EXPECT_TRUE(reached);
}

TEST(RateOverWindows, AGapBetweenBeatsOfAWindowIsNotCountedAsOneInterval) {
  std::vector<double> times = regular(0.1, 60.0, 0.75);
  std::erase_if(times, [](double t) { return t > 30.0 && t < 32.6; });
  BeatTrain train = train_at(times, 60.0);
  train.unreadable = {{30_s, 32.5_s}};
  int given = 0;
  for (const RateWindow& w : rates_of(train).windows)
    if (w.rate) {
      ++given;
      EXPECT_NEAR(w.rate->value(), 80.0, 1e-6);
    }
  EXPECT_GT(given, 15);
}

TEST(RateOverWindows, NoRateWhereMostOfTheWindowIsUnreadableOrSilent) {
  const BeatTrain silent = train_at(regular(0.1, 20.0, 0.75), 60.0);
  const RateSeries of_silent = rates_of(silent);
  EXPECT_GT(of_silent.windows.size(), 20u);
  for (const RateWindow& w : of_silent.windows)
    EXPECT_EQ(w.rate.has_value(), w.window.start.value() <= 15.0) << w.window.start.value();
  BeatTrain train = train_at(regular(0.1, 60.0, 0.75), 60.0);
  train.unreadable = {{20_s, 30_s}};
  int unreadable = 0;
  for (const RateWindow& w : rates_of(train).windows) {
    const double covered = std::min(w.window.end.value(), 30.0) - std::max(w.window.start.value(), 20.0);
    if (covered > 4.0) {
      ++unreadable;
      EXPECT_FALSE(w.rate) << w.window.start.value();
    }
  }
  EXPECT_EQ(unreadable, 4);  // those from 18, 20, 22 and 24 s on
}

TEST(RateOverWindows, FewerThanThreeBeatsAreNoRateAndAllFieldsAreAbsentTogether) {
  const RateSeries rates = rates_of(train_at({1.0, 2.0}, 8.0));
  ASSERT_EQ(rates.windows.size(), 1u);
  const RateWindow& w = rates.windows[0];
  EXPECT_FALSE(w.rate || w.low || w.high || w.confidence);
  EXPECT_EQ(w.method, RateMethod::none);
  ASSERT_FALSE(rates.warnings.empty());
  EXPECT_EQ(rates.warnings.back().code, "no_rate");
}

TEST(RateOverWindows, NoBeatsAtAllIsAnOrdinaryAnswer) {
  const RateSeries rates = rates_of(train_at({}, 20.0));
  EXPECT_EQ(rates.windows.size(), 7u);
  for (const RateWindow& w : rates.windows) EXPECT_FALSE(w.rate);
}

TEST(RateOverWindows, ARecordingShorterThanAWindowHasNoneAndAWarning) {
  const RateSeries rates = rates_of(train_at(regular(0.1, 7.0, 0.75), 7.0));
  EXPECT_TRUE(rates.windows.empty());
  ASSERT_EQ(rates.warnings.size(), 1u);
  EXPECT_EQ(rates.warnings[0].code, "shorter_than_window");
}

TEST(RateOverWindows, ADurationThatFallsShortByRoundingStillHasItsLastWindow) {
  double duration = 0.0;
  for (int i = 0; i < 100; ++i) duration += 0.1;  // 9.99999999999998
  EXPECT_EQ(rates_of(train_at(regular(0.1, 9.9, 0.75), duration)).windows.size(), 2u);
}

TEST(RateOverWindows, RefuseStepsAndIntervalsThatBreakTheContract) {
  const BeatTrain train = train_at(regular(0.1, 20.0, 0.75), 20.0);
  RateOptions options;
  options.step = 0_s;
  EXPECT_THROW((void)rates_of(train, options), Error);
  options = {};
  options.window = Seconds{-1.0};
  EXPECT_THROW((void)rates_of(train, options), Error);
  EXPECT_THROW((void)rate_over_windows(train, Intervals{}), Error);
}

TEST(RateOverWindows, TheIntervalHoldsTheTrueRateAsOftenAsItSays) {
  // Beats of a wandering rhythm with a timing error of 10 ms, found in a pulse signal.
  std::mt19937 random(5);
  std::normal_distribution<double> noise;
  int inside = 0, all = 0;
  for (int round = 0; round < 40; ++round) {
    std::vector<double> truth{0.3};
    double interval = 0.7;
    while (truth.back() < 100.0) {
      interval += 0.2 * (0.7 - interval) + 0.01 * noise(random);
      truth.push_back(truth.back() + interval);
    }
    std::vector<double> found = truth;
    for (double& t : found) t += 0.010 * noise(random);
    BeatTrain train = train_at(found, 100.0);
    train.source = BeatSource::pulse;
    for (const RateWindow& w : rates_of(train).windows) {
      const auto in = [&](const std::vector<double>& times) {
        std::vector<std::size_t> which;
        for (std::size_t i = 0; i < times.size(); ++i)
          if (w.window.contains(Seconds{times[i]})) which.push_back(i);
        return which;
      };
      const auto which = in(found);
      const double rate = 60.0 * static_cast<double>(which.size() - 1) / (truth[which.back()] - truth[which.front()]);
      if (!w.rate) continue;
      ++all;
      if (w.low->value() <= rate && rate <= w.high->value()) ++inside;
    }
  }
  EXPECT_GT(all, 1500);
  EXPECT_NEAR(static_cast<double>(inside) / all, 0.95, 0.02);
}

TEST(RateOverWindows, ConfidenceIsTheShareOfWindowsWithinFiveBeatsPerMinuteOfTheTruth) {
  // A rhythm with breathing; some beats are lost and some are added at random, and every beat says honestly how likely it is to be true.
  std::mt19937 random(9);
  const auto uniform = [&] { return static_cast<double>(random()) / 4294967296.0; };
  double promised = 0.0;
  int kept = 0, given = 0, all = 0, confident_and_wrong = 0, confident = 0;
  for (int round = 0; round < 60; ++round) {
    std::vector<double> truth{0.3};
    while (truth.back() < 120.0)
      truth.push_back(truth.back() + 0.6 + 0.03 * std::sin(1.6 * truth.back()) + 0.01 * (uniform() - 0.5));
    std::vector<double> found;
    for (const double t : truth) {
      if (uniform() > 0.015) found.push_back(t);
      if (uniform() < 0.015) found.push_back(t + 0.6 * (0.2 + 0.6 * uniform()));
    }
    const BeatTrain train = train_at(found, 120.0, 1.0 - 0.015);
    const auto rate_in = [&](Span window) {
      double first = -1.0, last = 0.0;
      int n = 0;
      for (const double t : truth) {
        if (!window.contains(Seconds{t})) continue;
        if (first < 0.0) first = t;
        last = t;
        ++n;
      }
      return 60.0 * (n - 1) / (last - first);
    };
    for (const RateWindow& w : rates_of(train).windows) {
      ++all;
      if (!w.rate) continue;
      ++given;
      const bool near = std::abs(w.rate->value() - rate_in(w.window)) <= 5.0;
      promised += *w.confidence;
      kept += near;
      if (*w.confidence > 0.9) {
        ++confident;
        confident_and_wrong += !near;
      }
    }
  }
  EXPECT_GT(given, all / 2);
  EXPECT_NEAR(static_cast<double>(kept) / given, promised / given, 0.03);
  EXPECT_LT(confident_and_wrong, 0.02 * confident);
}

TEST(InstantRates, AreOnePerNormalIntervalAtItsEndWithTheMeanOfRatesOfTheWorkedExample) {
  Intervals intervals;
  double t = 0.0;
  for (const double ms : {800, 810, 790, 860, 800, 900, 780, 820, 815, 805}) {
    intervals.intervals.push_back({Seconds{t}, Seconds{t + ms / 1000.0}, ms, IntervalVerdict::normal, ms, 0, 1});
    t += ms / 1000.0;
  }
  const std::vector<InstantRate> rates = instant_rates(intervals);
  ASSERT_EQ(rates.size(), 10u);
  double sum = 0.0;
  for (const InstantRate& r : rates) sum += r.rate.value();
  EXPECT_NEAR(sum / 10.0, 73.470515, 5e-7);  // derived by arithmetic: the mean of rates, not 60000 / mean
  EXPECT_DOUBLE_EQ(rates[0].time.value(), 0.8);
  EXPECT_DOUBLE_EQ(rates[0].rate.value(), 75.0);
  intervals.intervals[3].verdict = IntervalVerdict::misplaced;
  EXPECT_EQ(instant_rates(intervals).size(), 9u);
}

}  // namespace
}  // namespace pulsewright
