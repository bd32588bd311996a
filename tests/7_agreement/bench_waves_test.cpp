/// The bench waves, and the project's own ECG detector on the bench.
#include "pulsewright/bench_test.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "pulsewright/clean.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

BenchWave wave(const std::string& name) {
  for (const BenchWave& w : bench_waves())
    if (w.name == name) return w;
  throw std::invalid_argument(name);
}

TEST(BenchWaves, HaveTheRatesThatTheirNamesSay) {
  // ANSI/AAMI EC13 [from memory]: bigeminy 80, slow alternating 60, rapid alternating 120, bidirectional 90.
  for (const BenchWave& w : bench_waves()) {
    if (w.answer != BenchAnswer::reading) continue;
    const std::vector<Seconds> times = bench_beats(w).times();
    // An even number of intervals, so that patterns of two are whole.
    const std::size_t intervals = (times.size() - 1) / 2 * 2;
    const double bpm = 60.0 * static_cast<double>(intervals) / (times[intervals] - times[0]).value();
    EXPECT_NEAR(bpm, w.expected.value(), 1e-6) << w.name;
  }
  EXPECT_EQ(wave("ventricular_bigeminy_80").expected.value(), 80);
  EXPECT_EQ(wave("slow_alternating_60").expected.value(), 60);
  EXPECT_EQ(wave("rapid_alternating_120").expected.value(), 120);
  EXPECT_EQ(wave("bidirectional_90").expected.value(), 90);
}

TEST(BenchWaves, HaveTheHeightsAndWidthsThatTheirNamesSay) {
  constexpr double rate = 2000;
  const auto samples = bench_samples(wave("t_wave_1.2mv"), Hertz{rate});
  const auto at = [&](double t) { return samples[static_cast<std::size_t>(std::lround(t * rate))]; };
  EXPECT_NEAR(at(0.5), 1.0, 1e-6);
  EXPECT_NEAR(at(0.8), 1.2, 1e-6);
  const auto small = bench_samples(wave("small_0.15mv_80"), Hertz{rate});
  EXPECT_NEAR(*std::max_element(small.begin(), small.end()), 0.15, 1e-6);
  const auto narrow = bench_samples(wave("narrow_10ms_80"), Hertz{rate});
  const auto wide =
      std::count_if(narrow.begin(), narrow.begin() + static_cast<long>(rate), [](float v) { return v > 0; });
  EXPECT_NEAR(static_cast<double>(wide) / rate, 0.010, 0.0011);
  const auto swings = bench_samples(wave("bidirectional_90"), Hertz{rate});
  EXPECT_NEAR(*std::min_element(swings.begin(), swings.end()), -1.0, 1e-3);
  EXPECT_THROW(static_cast<void>(bench_samples(wave("rate_60"), Hertz{100})), Error);
}

RateSeries steady(double bpm, double until) {
  RateSeries series;
  for (int k = 0; 2 * k + 8 <= until; ++k) {
    RateWindow w;
    w.window = {Seconds{2.0 * k}, Seconds{2.0 * k + 8}};
    if (bpm > 0) w.rate = BeatsPerMinute{bpm};
    series.windows.push_back(w);
  }
  return series;
}

TEST(ScoreBench, JudgesWithinTenPercentOrFive) {
  EXPECT_EQ(score_bench(wave("rate_30"), BeatsPerMinute{35}).passed, true);
  EXPECT_EQ(score_bench(wave("rate_30"), BeatsPerMinute{36}).passed, false);
  EXPECT_EQ(score_bench(wave("rate_200"), BeatsPerMinute{220}).passed, true);
  EXPECT_EQ(score_bench(wave("rate_200"), BeatsPerMinute{221}).passed, false);
  EXPECT_EQ(score_bench(wave("rate_200"), std::optional<BeatsPerMinute>{}).passed, false);
  EXPECT_EQ(score_bench(wave("t_wave_1.2mv"), steady(160, 60)).passed, false);  // counted twice
  EXPECT_EQ(score_bench(wave("t_wave_1.2mv"), steady(80, 60)).passed, true);
}

TEST(ScoreBench, WantsNoResponseToWhatIsNoBeat) {
  EXPECT_EQ(score_bench(wave("small_0.15mv_80"), steady(80, 60)).passed, false);
  EXPECT_EQ(score_bench(wave("small_0.15mv_80"), steady(0, 60)).passed, true);
  EXPECT_EQ(score_bench(wave("narrow_10ms_80"), RateSeries{}).passed, true);
}

TEST(ScoreBench, DisclosesTheTimeToFollowAStep) {
  RateSeries readings = steady(80, 100);
  for (RateWindow& w : readings.windows)
    if (w.window.end.value() >= 46) w.rate = BeatsPerMinute{120};
  const BenchResult result = score_bench(wave("step_80_to_120"), readings);
  EXPECT_FALSE(result.passed);
  EXPECT_NEAR(result.time_to_follow->value(), 6, 1e-9);
  EXPECT_EQ(score_bench(wave("step_80_to_120"), steady(80, 100)).passed, false);
}

TEST(Bench, TheProgramsOwnDetectorReadsTheWavesAndRespondsToNothingElse) {
  int right = 0, judged = 0;
  for (const BenchWave& w : bench_waves()) {
    const Recording recording = bench_recording(w, Hertz{500});
    const BeatTrain beats = find_beats(recording);
    const BenchResult result = score_bench(w, rate_over_windows(beats, clean(beats)));
    RecordProperty(w.name,
                   (result.shown ? std::to_string(result.shown->value()) : std::string("nothing")) + " " + result.note);
    if (w.answer == BenchAnswer::step) continue;
    ++judged;
    EXPECT_EQ(result.passed, true) << w.name;
    right += result.passed == true ? 1 : 0;
  }
  EXPECT_EQ(judged, 16);
  EXPECT_EQ(right, judged);
}

/// The wave as hardware hands it on: late, with a gain and an offset, noisy.
Channel handed_on(const BenchWave& sent, double gain, double offset, double late_s, double noise) {
  std::mt19937_64 bits(2);
  std::normal_distribution<double> normal;
  Channel channel;
  channel.rate = Hertz{250};
  const std::vector<float> samples = bench_samples(sent, channel.rate);
  channel.samples.assign(static_cast<std::size_t>(std::lround(std::max(0.0, late_s) * 250)),
                         static_cast<float>(offset));
  const auto cut = static_cast<std::size_t>(std::lround(std::max(0.0, -late_s) * 250));
  for (std::size_t i = cut; i < samples.size(); ++i)
    channel.samples.push_back(static_cast<float>(offset + gain * static_cast<double>(samples[i])));
  for (float& sample : channel.samples) sample += static_cast<float>(gain * noise * normal(bits));
  return channel;
}

TEST(FindWave, TellsGainPolarityAndDelay) {
  const auto upright = find_wave(wave("step_80_to_120"), handed_on(wave("step_80_to_120"), 300, 2048, 3.7, 0.05));
  ASSERT_TRUE(upright);
  EXPECT_NEAR(upright->gain, 300, 10);
  EXPECT_NEAR(upright->delay.value(), 3.7, 0.01);
  EXPECT_GT(upright->correlation, 0.9);
  const auto inverted =
      find_wave(wave("ventricular_bigeminy_80"), handed_on(wave("ventricular_bigeminy_80"), -0.02, 0.5, -12.3, 0.05));
  ASSERT_TRUE(inverted);
  EXPECT_NEAR(inverted->gain, -0.02, 0.001);
  EXPECT_LT(inverted->correlation, -0.9);
}

TEST(FindWave, OfAWaveThatRepeatsTakesTheShortestDelayThatFits) {
  Channel cut = handed_on(wave("rate_60"), 1, 0, 0, 0.01);
  cut.samples.resize(static_cast<std::size_t>(40 * cut.rate.value()));
  const auto found = find_wave(wave("rate_60"), cut);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->delay.value(), 0, 0.01);
}

TEST(FindWave, FindsNothingInSilenceNoiseOrTooLittle) {
  EXPECT_FALSE(find_wave(wave("rate_60"), handed_on(wave("rate_60"), 1, 0, -45, 0)));
  EXPECT_FALSE(find_wave(wave("rate_60"), handed_on(wave("rate_60"), 0, 0.5, 0, 0)));
  const auto noise = find_wave(wave("rate_60"), handed_on(wave("rate_60"), 0.01, 0, 0, 30));
  ASSERT_TRUE(noise);
  EXPECT_LT(std::abs(noise->correlation), least_bench_correlation);
}

TEST(ScoreBench, CountsFromWhereTheWaveBegins) {
  RateSeries readings = steady(80, 100);
  for (RateWindow& w : readings.windows) {
    w.window = {w.window.start + Seconds{7}, w.window.end + Seconds{7}};
    if (w.window.end.value() >= 53) w.rate = BeatsPerMinute{120};
  }
  EXPECT_NEAR(score_bench(wave("step_80_to_120"), readings, Seconds{7}).time_to_follow->value(), 6, 1e-9);
  RateWindow after;
  after.window = {Seconds{200}, Seconds{208}};
  after.rate = BeatsPerMinute{70};
  RateSeries silence;
  silence.windows = {after};
  EXPECT_EQ(score_bench(wave("small_0.15mv_80"), silence).passed, true);  // a person, after the wave
}

TEST(Bench, WavesOfAnUnknownUnitHaveNoFloor) {
  Recording recording = bench_recording(wave("small_0.15mv_80"), Hertz{500});
  EXPECT_TRUE(find_beats(recording).accepted().empty());
  recording.channels[0].unit.clear();
  EXPECT_GT(find_beats(recording).accepted().size(), 70U);
}

}  // namespace
}  // namespace pulsewright
