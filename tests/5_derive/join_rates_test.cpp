#include <gtest/gtest.h>

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
  EXPECT_EQ(join_rates(beats, moving_track({from_spectrum(0, 140, 0.1)})).windows[0].rate->value(), 140.0);
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
