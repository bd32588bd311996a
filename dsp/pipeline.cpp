#include "pulsewright/pipeline.hpp"

#include <utility>

#include "pulsewright/beat_shapes.hpp"

namespace pulsewright {

Analysis analyze(const Recording& recording, const Person& person, const AnalyzeOptions& options) {
  BeatTrain beats = find_and_label_beats(recording, choose_signals(recording, options.find), options.find);
  std::optional<RateTrack> track = track_beside(beats, recording, options);
  return analyze(std::move(beats), std::move(track), person, options);
}

std::optional<RateTrack> track_beside(const BeatTrain& beats, const Recording& recording,
                                      const AnalyzeOptions& options) {
  if (beats.source != BeatSource::pulse) return std::nullopt;
  TrackOptions track;
  track.channels = options.find.channels;
  track.motion = options.motion;
  track.streaming = options.find.streaming;
  track.condition = options.find.condition;
  return track_rate(recording, track);
}

Analysis analyze(BeatTrain beats, std::optional<RateTrack> track, const Person& person, const AnalyzeOptions& options) {
  Analysis result;
  result.beats = std::move(beats);
  result.track = std::move(track);
  result.intervals = clean(result.beats, options.clean);
  result.rates = rate_over_windows(result.beats, result.intervals, options.rate);
  if (result.track) result.rates = join_rates(std::move(result.rates), *result.track);
  result.variability = variability(result.intervals, options.variability);
  result.effort = effort(result.rates, person, options.effort);
  return result;
}

Analysis analyze(BeatTrain beats, const Person& person, const AnalyzeOptions& options) {
  return analyze(std::move(beats), std::nullopt, person, options);
}

}  // namespace pulsewright
