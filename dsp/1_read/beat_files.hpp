/// What the readers of beat files share.
#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "pulsewright/read.hpp"

namespace pulsewright::reading {

/// Codes of the annotation format that enclose an episode of ventricular flutter or fibrillation.
inline constexpr int flutter_begins = 32;
inline constexpr int flutter_ends = 33;

/// The clock of the record that a beat file belongs to.
struct RecordTiming {
  Hertz rate;
  std::optional<Seconds> duration;
};

/// The timing of the record whose header stands beside `path` under the same name; nothing when there is none.
[[nodiscard]] std::optional<RecordTiming> timing_beside(const std::filesystem::path& path);

/// Beats and flutter episodes among annotations. An episode without an end lasts to the end of the recording; one without a beginning
/// starts with it.
[[nodiscard]] BeatFile beats_of_annotations(const std::vector<Annotation>& annotations, Hertz rate,
                                            std::optional<Seconds> duration);

/// Sorts the beats in time and leaves out those at the same time as the one before, with warnings.
void order_beats(BeatTrain& train);

}  // namespace pulsewright::reading
