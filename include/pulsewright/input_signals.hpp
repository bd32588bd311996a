/// An input through every stage with the signals kept that its beats were found in: what reports and displays are made of.
#pragma once

#include <optional>

#include "pulsewright/batch.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

/// A recording with the signals that its beats were found in; empty when the input was a list of beats or intervals.
struct InputSignals {
  std::optional<Recording> recording;
  ChosenSignals chosen;  ///< of `recording`
  FindOptions find;      ///< that the beats were found with
};

/// `analyze_input` with the signals kept in `signals`. Same results, same errors.
[[nodiscard]] Analysis analyze_input(const Request& request, InputSignals& signals, const BeatReview& review = {});

}  // namespace pulsewright
