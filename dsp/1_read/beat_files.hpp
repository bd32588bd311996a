/// What the readers of beat files share.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/read.hpp"

namespace pulsewright::reading {

/// Codes of the annotation format that enclose an episode of ventricular flutter or fibrillation.
inline constexpr int flutter_begins = 32;
inline constexpr int flutter_ends = 33;
/// Code of a comment.
inline constexpr int comment_code = 22;

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

/// A table with a header naming `time_s` (or `sample`, with a rate), and perhaps `confidence`, `verdict`, `label`: what the command `beats`
/// writes. Other columns are ignored, but a recording or a curve of rates is refused: times that advance by equal steps beside a column of
/// beats/min, or any that follow each other faster than a heart beats.
[[nodiscard]] BeatFile beats_of_table(std::string_view text, const std::string& file, std::optional<Hertz> rate);

/// A listing whose columns are a time, a sample number and the symbol of an annotation; rows without a known symbol are left out. A comment row
/// `## time resolution: N` fills `stated_rate`.
[[nodiscard]] std::vector<Annotation> annotations_of_listing(std::string_view text, const std::string& file,
                                                             std::optional<double>& stated_rate);

/// Bare sample numbers from 0, parted by blanks or line ends. Numbers that fall again and again are samples themselves, and refused.
[[nodiscard]] BeatFile beats_of_sample_numbers(std::string_view text, const std::string& file, Hertz rate);

/// Sorts the beats in time and leaves out those at the same time as the one before, with warnings.
void order_beats(BeatTrain& train);

}  // namespace pulsewright::reading
