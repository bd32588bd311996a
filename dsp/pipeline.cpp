#include "pulsewright/pipeline.hpp"

#include <future>
#include <utility>

#include "pulsewright/beat_shapes.hpp"

namespace pulsewright {
namespace {

using ComingTrack = std::future<std::optional<RateTrack>>;

/// Stages 4 to 6. The track is waited for when what does not need it is done.
Analysis after_beats(BeatTrain beats, ComingTrack track, const Person& person, const AnalyzeOptions& options) {
  Analysis result;
  result.beats = options.review ? options.review(std::move(beats)) : std::move(beats);
  result.intervals = clean(result.beats, options.clean);
  result.variability = variability(result.intervals, options.variability);
  if (track.valid()) result.track = track.get();
  result.rates = heart_rate(result.beats, result.intervals, result.track, options.rate);
  result.effort = effort(result.rates, person, options.effort);
  return result;
}

}  // namespace

Analysis analyze(const Recording& recording, const Person& person, const AnalyzeOptions& options) {
  return analyze(recording, choose_signals(recording, options.find), person, options);
}

Analysis analyze(const Recording& recording, const ChosenSignals& chosen, const Person& person,
                 const AnalyzeOptions& options) {
  // With one thread, or where the system gives no other, the track is worked out when it is asked for. An error of its own shows there too; one that comes earlier
  // waits here until the other thread is done.
  const auto when = options.threads > 1 ? std::launch::async | std::launch::deferred : std::launch::deferred;
  ComingTrack track = std::async(when, [&] { return track_beside(chosen, recording, options); });
  return after_beats(find_and_label_beats(recording, chosen, options.find), std::move(track), person, options);
}

std::optional<RateTrack> track_beside(const ChosenSignals& chosen, const Recording& recording,
                                      const AnalyzeOptions& options) {
  if (chosen.kind != ChannelKind::pulse) return std::nullopt;
  TrackOptions track;
  track.channels = options.find.channels;
  track.motion = options.motion;
  track.streaming = options.find.streaming;
  track.condition = options.find.condition;
  track.threads = options.threads;
  return track_rate(recording, chosen, track);
}

Analysis analyze(BeatTrain beats, const Person& person, const AnalyzeOptions& options) {
  return after_beats(std::move(beats), {}, person, options);
}

}  // namespace pulsewright
