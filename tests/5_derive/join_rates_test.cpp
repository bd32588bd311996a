#include <gtest/gtest.h>

#include <cmath>

#include "pulsewright/rate.hpp"

namespace {

using namespace pulsewright;

RateWindow from_beats(double start, double bpm, double confidence) {
  RateWindow window;
  window.window = {Seconds{start}, Seconds{start + 8}};
  window.rate = BeatsPerMinute{bpm};
  window.low = BeatsPerMinute{bpm - 1};
  window.high = BeatsPerMinute{bpm + 1};
  window.confidence = confidence;
  window.method = RateMethod::beats;
  return window;
}

TrackPoint from_spectrum(double start, double bpm, double confidence) {
  TrackPoint point;
  point.window = {Seconds{start}, Seconds{start + 8}};
  point.rate = BeatsPerMinute{bpm};
  point.low = BeatsPerMinute{bpm - 3};
  point.high = BeatsPerMinute{bpm + 3};
  point.confidence = confidence;
  return point;
}

RateSeries series(std::vector<RateWindow> windows) {
  RateSeries rates;
  rates.windows = std::move(windows);
  return rates;
}

RateTrack moving_track(std::vector<TrackPoint> points) {
  RateTrack track;
  track.points = std::move(points);
  track.motion_used = true;
  return track;
}

TEST(JoinedRates, AreFromBeatsThatTheSpectrumConfirms) {
  const RateSeries joined = join_rates(series({from_beats(0, 72, 0.97)}), moving_track({from_spectrum(0, 74, 0.9)}));
  EXPECT_EQ(joined.windows[0].method, RateMethod::beats);
  EXPECT_EQ(joined.windows[0].rate->value(), 72.0);
}

TEST(JoinedRates, AreFromTheSpectrumWhereItContradictsTheBeats) {
  const RateSeries joined = join_rates(series({from_beats(0, 165, 0.97)}), moving_track({from_spectrum(0, 140, 0.8)}));
  EXPECT_EQ(joined.windows[0].method, RateMethod::spectrum);
  EXPECT_EQ(joined.windows[0].rate->value(), 140.0);
  EXPECT_EQ(*joined.windows[0].confidence, 0.8);
}

TEST(JoinedRates, AreAbsentWhereBeatsAreContradictedByASpectrumThatIsUnsureItself) {
  const RateSeries joined = join_rates(series({from_beats(0, 165, 0.97)}), moving_track({from_spectrum(0, 140, 0.3)}));
  EXPECT_FALSE(joined.windows[0].rate);
  EXPECT_EQ(joined.windows[0].method, RateMethod::none);
  EXPECT_EQ(joined.warnings.back().code, "no_rate");
}

TEST(JoinedRates, AreGivenHoweverUnsureWhenAskedFor) {
  RateSeries beats = series({RateWindow{}});
  beats.windows[0].window = {Seconds{0}, Seconds{8}};
  beats.options.least_confidence = 0.0;
  beats.options.widest_bpm = 1000;
  EXPECT_EQ(join_rates(beats, moving_track({from_spectrum(0, 140, 0.1)})).windows[0].rate->value(), 140.0);
}

TEST(JoinedRates, HaveIntervalsThatFollowFromTheirConfidence) {
  // 4 beats/min to either side at 95 %; odds smaller by 19 make it 19^0.4 = 3.25 times as wide.
  RateSeries beats = series({RateWindow{}, RateWindow{}});
  beats.windows[0].window = {Seconds{0}, Seconds{8}};
  beats.windows[1].window = {Seconds{2}, Seconds{10}};
  const RateSeries joined = join_rates(beats, moving_track({from_spectrum(0, 140, 0.95), from_spectrum(2, 141, 0.5)}));
  EXPECT_NEAR(joined.windows[0].high->value() - 140, 4, 1e-9);
  EXPECT_NEAR(141 - joined.windows[1].low->value(), 4 * std::pow(19, 0.4), 1e-9);
}

TEST(DoubtfulRates, BecomeGuessesWhereTheyAreUnsureOrWide) {
  RateSeries rates = series({from_beats(0, 72, 0.97), from_beats(2, 72, 0.4), from_beats(4, 72, 0.97)});
  rates.windows[2].low = BeatsPerMinute{40};
  rates.windows[2].high = BeatsPerMinute{81};
  withhold_doubtful(rates);
  EXPECT_TRUE(rates.windows[0].rate);
  EXPECT_FALSE(rates.windows[0].guess);
  for (const std::size_t k : {1U, 2U}) {
    EXPECT_FALSE(rates.windows[k].rate || rates.windows[k].low || rates.windows[k].confidence);
    EXPECT_EQ(rates.windows[k].method, RateMethod::none);
    ASSERT_TRUE(rates.windows[k].guess);
    EXPECT_EQ(rates.windows[k].guess->rate.value(), 72);
    EXPECT_EQ(rates.windows[k].guess->method, RateMethod::beats);
  }
  EXPECT_EQ(rates.windows[2].guess->high.value(), 81);
}

TEST(DoubtfulRates, AreStillComparedWithTheSpectrum) {
  // Too wide from the beats alone, and confirmed by a surer spectrum.
  RateSeries rates = series({from_beats(0, 72, 0.6)});
  rates.windows[0].low = BeatsPerMinute{50};
  rates.windows[0].high = BeatsPerMinute{95};
  withhold_doubtful(rates);
  const RateSeries joined = join_rates(rates, moving_track({from_spectrum(0, 74, 0.95)}));
  EXPECT_EQ(joined.windows[0].method, RateMethod::spectrum);
  EXPECT_FALSE(joined.windows[0].guess);
}

TEST(JoinedRates, OfALongWindowAreTheMeanOfTheTracksWindowsInsideIt) {
  RateSeries beats = series({RateWindow{}});
  beats.windows[0].window = {Seconds{0}, Seconds{12}};
  const RateSeries joined = join_rates(beats, moving_track({from_spectrum(0, 100, 0.9), from_spectrum(2, 104, 0.9),
                                                            from_spectrum(4, 108, 0.9), from_spectrum(6, 150, 0.9)}));
  EXPECT_DOUBLE_EQ(joined.windows[0].rate->value(), 104.0);
}

TEST(JoinedRates, OfAShortWindowAreThoseOfTheNearestMiddle) {
  RateSeries beats = series({RateWindow{}});
  beats.windows[0].window = {Seconds{4}, Seconds{8}};  // its middle, 6 s, is that of the window from 2 s on
  const RateSeries joined = join_rates(
      beats, moving_track({from_spectrum(0, 100, 0.9), from_spectrum(2, 104, 0.9), from_spectrum(4, 108, 0.9)}));
  EXPECT_DOUBLE_EQ(joined.windows[0].rate->value(), 104.0);
}

TEST(JoinedRates, WarnWhereTheRateIsAtTheCadenceAndWhereNoMotionChannelWasThere) {
  RateTrack track = moving_track({from_spectrum(0, 140, 0.9)});
  track.points[0].at_cadence = true;
  EXPECT_EQ(join_rates(series({from_beats(0, 165, 0.9)}), track).warnings.back().code, "rate_at_cadence");
  track.motion_used = false;
  EXPECT_EQ(join_rates(series({from_beats(0, 165, 0.9)}), track).warnings.back().code, "no_motion_channel");
}

}  // namespace
