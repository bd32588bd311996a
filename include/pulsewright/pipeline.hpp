/// The whole road from a recording to an effort summary.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/effort.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/rate_track.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

/// What is done to beats between finding and using them: corrections by hand, a note of where they come from.
using BeatReview = std::function<BeatTrain(BeatTrain)>;

struct AnalyzeOptions {
  FindOptions find;
  /// Motion channels for the rate track, by position; nothing: every acceleration and gyro channel.
  std::optional<std::vector<std::size_t>> motion;
  CleanOptions clean;
  RateOptions rate;
  VariabilityOptions variability;
  EffortOptions effort;
  BeatReview review;  ///< empty: beats stay as they were found
  std::size_t threads =
      1;  ///< above 1 the rate track is worked out beside the rest, in threads of its own; results are the same
};

/// Every stage's result for one recording and one person.
struct Analysis {
  BeatTrain beats;
  std::optional<RateTrack> track;  ///< of pulse recordings
  Intervals intervals;
  RateSeries rates;
  Variability variability;
  Effort effort;
};

/// Runs stages 2 to 6. Throws what they throw.
[[nodiscard]] Analysis analyze(const Recording& recording, const Person& person, const AnalyzeOptions& options = {});

/// The same with the signals that `choose_signals` gave for `options.find`.
[[nodiscard]] Analysis analyze(const Recording& recording, const ChosenSignals& chosen, const Person& person,
                               const AnalyzeOptions& options = {});

/// The rate track beside the beats of chosen signals; nothing where these are no pulse.
[[nodiscard]] std::optional<RateTrack> track_beside(const ChosenSignals& chosen, const Recording& recording,
                                                    const AnalyzeOptions& options = {});

/// Runs stages 4 to 6 on beats that are already there.
[[nodiscard]] Analysis analyze(BeatTrain beats, const Person& person, const AnalyzeOptions& options = {});

}  // namespace pulsewright
