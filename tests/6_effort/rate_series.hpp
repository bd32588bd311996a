/// Rate series made by hand.
#pragma once

#include "pulsewright/effort.hpp"

namespace pulsewright {

/// Windows of `window` every `step`, whose rate is `rate(centre)`; nothing where that is negative.
template <class F>
RateSeries series(double duration, double window, double step, F rate) {
  RateSeries result;
  result.options = {Seconds{window}, Seconds{step}};
  result.duration = Seconds{duration};
  for (int k = 0; k * step + window <= duration + 1e-9; ++k) {
    RateWindow w;
    w.window = {Seconds{k * step}, Seconds{k * step + window}};
    const double bpm = rate(k * step + window / 2.0);
    if (bpm >= 0.0) {
      w.rate = w.low = w.high = BeatsPerMinute{bpm};
      w.confidence = 1.0;
      w.method = RateMethod::beats;
    }
    result.windows.push_back(w);
  }
  return result;
}

inline RateSeries steady(double duration, double bpm) {
  return series(duration, 8.0, 2.0, [=](double) { return bpm; });
}

/// Age 15, resting 66: maximum 205, reserve 139.
inline Person wren() {
  Person person;
  person.code = "wren";
  person.age_years = 15;
  person.resting = 66_bpm;
  return person;
}

}  // namespace pulsewright
