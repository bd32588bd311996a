#include "pulsewright/rate.hpp"

namespace pulsewright {

void withhold_doubtful(RateSeries& series) {
  for (RateWindow& window : series.windows) {
    if (!window.rate || !window.low || !window.high || !window.confidence) continue;
    const bool sure = *window.confidence >= series.options.least_confidence;
    if (sure && (*window.high - *window.low).value() <= series.options.widest_bpm) continue;
    const RateGuess guess{*window.rate, *window.low, *window.high, *window.confidence, window.method};
    const Span span = window.window;
    window = RateWindow{};
    window.window = span;
    window.guess = guess;
  }
}

}  // namespace pulsewright
