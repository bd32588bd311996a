#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "offset_line.hpp"
#include "pulsewright/bench_test.hpp"
#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {
namespace {

/// EC13: a reading is taken 20 s after the wave began.
constexpr double settling_s = 20.0;

bool right(double shown, double expected) {
  return std::abs(shown - expected) <= std::max(ec13_least, ec13_fraction * expected);
}

void judge(BenchResult& result) {
  switch (result.wave.answer) {
    case BenchAnswer::reading:
      result.passed = result.shown && right(result.shown->value(), result.wave.expected.value());
      if (!result.shown) result.note = "no rate was shown";
      break;
    case BenchAnswer::no_response:
      result.passed = !result.shown;
      result.note = result.shown ? "it responded" : "no response, as it should be";
      break;
    case BenchAnswer::step:
      if (!result.shown || !right(result.shown->value(), result.wave.expected.value())) {
        result.passed = false;
        result.note = "it did not follow the step";
      } else if (result.time_to_follow) {
        result.note = fmt::format("followed after {:.1f} s", result.time_to_follow->value());
      } else {
        result.note = "followed; one reading does not tell how fast";
      }
      break;
  }
}

/// Lists of beats or rates may end so long before the wave: a beat at 30 beats/min, then some steps of readings (ours).
constexpr double whole_within_s = 6.0;

/// How much of the wave the readings cover, from its beginning; nothing when they do not say.
std::optional<double> covered_s(const RateSeries& readings, Seconds delay) {
  Seconds end = readings.duration;
  if (!readings.windows.empty()) end = std::max(end, readings.windows.back().window.end);
  return end > Seconds{0} ? std::optional((end - delay).value()) : std::nullopt;
}

}  // namespace

BenchResult score_bench(const BenchWave& wave, const RateSeries& readings, Seconds delay) {
  BenchResult result{
      .wave = wave, .shown = std::nullopt, .time_to_follow = std::nullopt, .passed = std::nullopt, .note = ""};
  const bool step = wave.answer == BenchAnswer::step;
  const double from = step ? wave.duration.value() - settling_s : settling_s;
  std::vector<double> shown;
  bool follows = false;  // readings have been right ...
  Seconds since;         // ... from here on
  for (const RateWindow& window : readings.windows) {
    if (!window.rate) continue;
    // A rate speaks when its window is over.
    const Seconds end = window.window.end - delay;
    const double time = end.value(), rate = window.rate->value();
    constexpr double rounding_s = 1e-6;
    if (time > wave.duration.value() + rounding_s) continue;
    if (time >= from) shown.push_back(rate);
    if (!step || time < wave.step_at.value()) continue;
    if (!right(rate, wave.expected.value()))
      follows = false;
    else if (!std::exchange(follows, true))
      since = end;
  }
  if (!shown.empty()) result.shown = BeatsPerMinute{median_of(shown)};
  if (follows) result.time_to_follow = since - wave.step_at;
  judge(result);
  const double whole = wave.duration.value();
  if (delay.value() < -whole_within_s)
    result.add_note(fmt::format("its first {:.0f} s did not come back", -delay.value()));
  if (const auto covered = covered_s(readings, delay); covered && *covered < whole - whole_within_s) {
    const std::string cut = fmt::format("only the first {:.0f} s of {:.0f} s came back", *covered, whole);
    result.undecided = *covered <= from;
    if (result.undecided) {
      result.passed.reset();
      result.note = cut + ", too little to tell";
    } else {
      result.add_note(cut);
    }
  }
  return result;
}

BenchResult score_bench(const BenchWave& wave, std::optional<BeatsPerMinute> reading) {
  BenchResult result{
      .wave = wave, .shown = reading, .time_to_follow = std::nullopt, .passed = std::nullopt, .note = ""};
  judge(result);
  return result;
}

}  // namespace pulsewright
