#include <gtest/gtest.h>

#include <cmath>

#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/clean.hpp"

namespace pulsewright {
namespace {

/// Beats at `times`, narrow and upright, those of `wide` broad and upside down, on a signal of 250 Hz.
struct Scene {
  Signal signal;
  BeatTrain beats;
};

Scene scene(const std::vector<double>& times, const std::vector<std::size_t>& wide) {
  Scene s;
  s.signal.kind = ChannelKind::ecg;
  s.signal.rate = Hertz{250.0};
  s.signal.values.assign(static_cast<std::size_t>(250.0 * (times.back() + 1.0)), 0.0F);
  for (std::size_t i = 0; i < times.size(); ++i) {
    const bool is_wide = std::find(wide.begin(), wide.end(), i) != wide.end();
    const double width = is_wide ? 0.045 : 0.012, height = is_wide ? -1.2 : 1.0;
    for (std::size_t k = 0; k < s.signal.values.size(); ++k) {
      const double d = static_cast<double>(k) / 250.0 - times[i];
      if (std::abs(d) < 0.3)
        s.signal.values[k] += static_cast<float>(height * std::exp(-0.5 * d * d / (width * width)));
    }
    Beat beat;
    beat.time = Seconds{times[i]};
    s.beats.candidates.push_back(beat);
  }
  s.beats.duration = Seconds{times.back() + 1.0};
  s.beats.source = BeatSource::ecg;
  return s;
}

/// A steady rhythm, some beats early with a full pause after them.
std::vector<double> rhythm(std::size_t n, const std::vector<std::size_t>& early) {
  std::vector<double> times;
  for (std::size_t i = 0; i < n; ++i)
    times.push_back(1.0 + 0.8 * static_cast<double>(i) + 0.01 * static_cast<double>(i % 3));
  for (const std::size_t i : early) times[i] -= 0.25;
  return times;
}

TEST(LabelByShape, AnEarlyWideBeatIsVentricularAndAnEarlyNarrowOneSupraventricular) {
  const Scene s = scene(rhythm(60, {15, 30, 45}), {15, 45});
  const BeatTrain labelled = label_by_shape(s.beats, {&s.signal, 1});
  for (std::size_t i = 0; i < 60; ++i) {
    const BeatLabel expected = i == 15 || i == 45 ? BeatLabel::ventricular
                               : i == 30          ? BeatLabel::supraventricular
                                                  : BeatLabel::normal;
    EXPECT_EQ(labelled.candidates[i].label, expected) << i;
  }
  const Intervals intervals = clean(labelled);
  for (const std::size_t i : {15u, 30u, 45u}) {
    EXPECT_EQ(intervals.intervals[i - 1].verdict, IntervalVerdict::early_beat);
    EXPECT_EQ(intervals.intervals[i].verdict, IntervalVerdict::compensatory_pause);
  }
}

TEST(LabelByShape, ABreathThatShortensIntervalsStepByStepMakesNoBeatEarly) {
  const std::vector<double> breath{1.0, 1.0, 1.01, 0.99, 1.0, 0.98, 0.93, 0.88, 0.835, 0.89, 0.95, 1.0};
  std::vector<double> times{1.0};
  for (std::size_t i = 0; i < 60; ++i) times.push_back(times.back() + breath[i % breath.size()]);
  for (const Scene s = scene(times, {}); const Beat& beat : label_by_shape(s.beats, {&s.signal, 1}).candidates)
    EXPECT_EQ(beat.label, BeatLabel::normal) << beat.time.value();
  times[28] -= 0.22;
  const Scene s = scene(times, {});
  EXPECT_EQ(label_by_shape(s.beats, {&s.signal, 1}).candidates[28].label, BeatLabel::supraventricular);
}

TEST(LabelByShape, AWideShapeThatIsTheRuleIsUsual) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < 60; ++i) all.push_back(i);
  const Scene s = scene(rhythm(60, {}), all);
  for (const Beat& beat : label_by_shape(s.beats, {&s.signal, 1}).candidates) EXPECT_EQ(beat.label, BeatLabel::normal);
}

TEST(LabelByShape, LabelsThatAreThereStayAndFewBeatsGetNone) {
  Scene s = scene(rhythm(60, {}), {});
  s.beats.candidates[10].label = BeatLabel::paced;
  EXPECT_EQ(label_by_shape(s.beats, {&s.signal, 1}).candidates[10].label, BeatLabel::paced);
  const Scene few = scene(rhythm(12, {}), {});
  for (const Beat& beat : label_by_shape(few.beats, {&few.signal, 1}).candidates)
    EXPECT_EQ(beat.label, BeatLabel::unlabelled);
  EXPECT_EQ(label_by_shape(s.beats, {}).candidates[0].label, BeatLabel::unlabelled);
}

TEST(LabelByShape, AWaveThatIsNotWholeHasNoLabel) {
  Scene s = scene(rhythm(60, {}), {});
  s.signal.values[static_cast<std::size_t>(250.0 * s.beats.candidates[20].time.value())] = std::nanf("");
  s.beats.candidates[0].time = Seconds{0.02};
  const BeatTrain labelled = label_by_shape(s.beats, {&s.signal, 1});
  EXPECT_EQ(labelled.candidates[20].label, BeatLabel::unlabelled);
  EXPECT_EQ(labelled.candidates[0].label, BeatLabel::unlabelled);
  EXPECT_EQ(labelled.candidates[21].label, BeatLabel::normal);
}

}  // namespace
}  // namespace pulsewright
