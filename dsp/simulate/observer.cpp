#include <algorithm>
#include <cmath>

#include "pulsewright/simulate.hpp"
#include "random.hpp"

namespace pulsewright {

using namespace simulation;

namespace {

void check(const Observer& observer) {
  const auto bad = [](double value) { return !(value >= 0.0 && std::isfinite(value)); };
  if (bad(observer.missed_percent) || observer.missed_percent > 100.0) {
    throw Error(ErrorCode::usage, "observer: missed_percent must be from 0 to 100");
  }
  if (bad(observer.extra_per_minute)) throw Error(ErrorCode::usage, "observer: extra_per_minute must be 0 or more");
  if (bad(observer.timing_sd.value())) throw Error(ErrorCode::usage, "observer: timing_sd must be 0 or more");
}

}  // namespace

BeatTrain observe(const BeatTrain& truth, const Observer& observer) {
  check(observer);
  Random random(observer.seed, Stream::observer);
  BeatTrain noted;
  noted.duration = truth.duration;
  noted.source = BeatSource::file;
  const double end = truth.duration.value();
  // The sample of a note is that of the truth's own grid, shifted by the same time.
  const auto note = [&](double time, const Beat& near) {
    if (time < 0.0 || time >= end) return;
    const double rate = near.time.value() > 0.0 ? static_cast<double>(near.sample.value()) / near.time.value() : 0.0;
    const auto sample = static_cast<std::int64_t>(std::floor(time * rate + 0.5));
    noted.candidates.push_back({Seconds{time}, SampleIndex{sample}, 1.0, BeatVerdict::accepted, BeatLabel::unlabelled});
  };
  double last = 0.0;
  for (const Beat& beat : truth.candidates) {
    if (beat.verdict != BeatVerdict::accepted) continue;
    const double t = beat.time.value();
    // The same draws for every beat whatever happens to it; an extra note falls anywhere in the interval before the beat.
    const bool missed = random.uniform() * 100.0 < observer.missed_percent;
    const double slip = observer.timing_sd.value() * random.gaussian();
    const bool extra = random.uniform() < observer.extra_per_minute / 60.0 * (t - last);
    const double where = random.uniform();
    if (extra) note(last + where * (t - last), beat);
    if (!missed) note(t + slip, beat);
    last = t;
  }
  std::stable_sort(noted.candidates.begin(), noted.candidates.end(),
                   [](const Beat& a, const Beat& b) { return a.time < b.time; });
  return noted;
}

}  // namespace pulsewright
