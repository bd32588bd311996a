#include <gtest/gtest.h>

#include <cmath>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;
using beat_tests::steady_pulse;

BeatAgreement score(const Simulation& simulation) {
  return match_beats(simulation.truth.pulse_train(simulation.scenario.rate), find_beats(simulation.recording));
}

TEST(PulseBeats, AreAllFoundFromFortyToTwoHundredBeatsPerMinute) {
  for (const double bpm : {40.0, 60.0, 90.0, 130.0, 170.0, 200.0}) {
    const BeatAgreement a = score(simulate(steady_pulse(bpm, 100)));
    EXPECT_LE(a.false_negatives, 1) << bpm << " beats/min";  // a crest cut by either end of the recording
    EXPECT_LE(a.false_positives, 1) << bpm << " beats/min";
    EXPECT_GT(a.true_positives, bpm * 1.9) << bpm << " beats/min";
  }
}

TEST(PulseBeats, OfTheCausalFormAreThePeaksWhateverTheRateAndThePolarity) {
  FindOptions options;
  options.streaming = true;
  for (const PulsePolarity polarity : {PulsePolarity::systole_up, PulsePolarity::systole_down}) {
    for (const double bpm : {45.0, 60.0, 90.0, 110.0, 130.0, 150.0}) {
      Scenario scene = steady_pulse(bpm, 64);
      scene.pulse->polarity = polarity;
      const Simulation simulation = simulate(scene);
      const BeatAgreement a =
          match_beats(simulation.truth.pulse_train(scene.rate), find_beats(simulation.recording, options));
      // The first seconds may be taken the wrong way round.
      EXPECT_LE(a.false_negatives + a.false_positives, bpm / 5.0) << bpm << " beats/min";
    }
  }
}

TEST(PulseBeats, AreFoundFromTwentyFiveToOneThousandHertz) {
  for (const double rate : {25.0, 50.0, 64.0, 125.0, 300.0, 1000.0}) {
    const BeatAgreement a = score(simulate(steady_pulse(75, rate)));
    EXPECT_LE(a.false_negatives + a.false_positives, 1) << rate << " Hz";
  }
}

TEST(PulseBeats, AreTheSameWhicheverWaySystolePoints) {
  Scenario scene = steady_pulse(75, 100);
  const std::vector<Seconds> up = find_beats(simulate(scene).recording).times();
  scene.pulse->polarity = PulsePolarity::systole_down;
  const std::vector<Seconds> down = find_beats(simulate(scene).recording).times();
  ASSERT_EQ(up.size(), down.size());
  for (std::size_t i = 0; i < up.size(); ++i) EXPECT_NEAR(up[i].value(), down[i].value(), 0.02);
}

TEST(PulseBeats, LieNearTheTrueSystolicPeak) {
  const BeatAgreement a = score(simulate(steady_pulse(75, 100)));
  ASSERT_TRUE(a.sd_ms().has_value());
  EXPECT_LT(*a.sd_ms(), 12.0);
  EXPECT_LT(std::abs(*a.bias_ms()), 15.0);
}

TEST(PulseBeats, NeverCountTheDicroticWave) {
  // Twice the rate would be 120 beats/min.
  const BeatTrain found = find_beats(simulate(steady_pulse(60, 100)).recording);
  EXPECT_NEAR(static_cast<double>(found.times().size()), 120, 2);
}

TEST(PulseBeats, AreNotSoughtWhileTheClipIsOff) {
  Scenario scene = steady_pulse(75, 100);
  scene.contact.planned = {{.span = {Seconds{50}, Seconds{70}}, .form = DropOutForm::flat}};
  const Simulation simulation = simulate(scene);
  const BeatTrain found = find_beats(simulation.recording);
  for (const Seconds t : found.times()) EXPECT_FALSE(t > Seconds{51} && t < Seconds{69}) << t.value();
  Seconds dark;
  for (const Span& span : found.unreadable) dark += span.length();
  EXPECT_NEAR(dark.value(), 20, 2);
}

TEST(PulseBeats, OfTwoSensorsAreFusedIntoOneTrain) {
  Recording recording = simulate(steady_pulse(75, 100, 7)).recording;
  const Simulation other = simulate(steady_pulse(75, 100, 7));
  recording.channels.push_back(other.recording.channels[0]);
  recording.channels[1].name = "pulse 2";
  const BeatAgreement a = match_beats(other.truth.pulse_train(Hertz{100}), find_beats(recording));
  EXPECT_LE(a.false_negatives + a.false_positives, 1);
}

}  // namespace
