/// The whole road from a recording to an effort summary.
#pragma once

#include "pulsewright/beats.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/effort.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

struct AnalyzeOptions {
  FindOptions find;
  CleanOptions clean;
  RateOptions rate;
  VariabilityOptions variability;
  EffortOptions effort;
};

/// Every stage's result for one recording and one person.
struct Analysis {
  BeatTrain beats;
  Intervals intervals;
  RateSeries rates;
  Variability variability;
  Effort effort;
};

/// Runs stages 2 to 6. Throws what they throw.
[[nodiscard]] Analysis analyze(const Recording& recording, const Person& person, const AnalyzeOptions& options = {});

/// Runs stages 4 to 6 on beats that are already there.
[[nodiscard]] Analysis analyze(BeatTrain beats, const Person& person, const AnalyzeOptions& options = {});

}  // namespace pulsewright
