/// Stage 7: scored beats of several recordings, in groups by what is known of the recordings.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// Records that share a condition, a device, ..., their beats pooled.
struct BeatGroup {
  std::string by;  ///< as of `Breakdown`
  std::string name;
  std::size_t records = 0;
  BeatAgreement agreement;
};

/// By each column that is stated; `facts` and `records` belong together by position, else Error{contract}.
[[nodiscard]] std::vector<BeatGroup> beat_groups(std::span<const RecordFacts> facts,
                                                 std::span<const BeatAgreement> records);

/// `repeated_content`: records that are listed as different ones and have the same missed beats, extra beats and timing errors. As `beat_groups`.
[[nodiscard]] Warnings beat_study_warnings(std::span<const RecordFacts> facts, std::span<const BeatAgreement> records);

}  // namespace pulsewright
