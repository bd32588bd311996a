/// What a live run comes to when it is over: the whole-file form over what was recorded, and where
/// the run itself showed something else.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

struct LiveClosing {
  Analysis whole;       ///< every stage over the recording, past and future in view
  BeatAgreement beats;  ///< what the run showed (test) against the whole-file form (reference)
  /// Over seconds in which both have a rate.
  std::size_t seconds_compared = 0;
  std::optional<double> mean_absolute_difference_bpm;
  std::vector<Span> rates_apart;  ///< where they differ by more than 5 beats/min
};

/// Runs the stages over a recording of a live run, and the run itself once more: it shows the same
/// again. Throws what the stages throw.
[[nodiscard]] LiveClosing close_live_run(const Recording& recording, const Person& person,
                                         const AnalyzeOptions& options = {});

/// A few lines for people.
[[nodiscard]] std::string live_closing_text(const LiveClosing& closing, const std::string& title);

}  // namespace pulsewright
