#include "pulsewright/pipeline.hpp"

#include <utility>

namespace pulsewright {

Analysis analyze(const Recording& recording, const Person& person, const AnalyzeOptions& options) {
  return analyze(find_beats(recording, options.find), person, options);
}

Analysis analyze(BeatTrain beats, const Person& person, const AnalyzeOptions& options) {
  Analysis result;
  result.beats = std::move(beats);
  result.intervals = clean(result.beats, options.clean);
  result.rates = rate_over_windows(result.beats, result.intervals, options.rate);
  result.variability = variability(result.intervals, options.variability);
  result.effort = effort(result.rates, person, options.effort);
  return result;
}

}  // namespace pulsewright
