/// Beats of people sitting, walking and jogging (Howell & Porr, University of Glasgow, CC BY 3.0), where the open recordings are.
#pragma once

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <optional>

#include "1_read/open_data.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::activity {

inline constexpr Hertz clock_rate{250.0};  // of the R-peak sample numbers
inline constexpr int people = 25;
inline constexpr int development_people = 12;  // 00-11

/// The folder of the set; nothing when it is not there.
inline std::optional<std::filesystem::path> folder() { return read_tests::open_data("activity_beats"); }

/// Beats of one person from the chest strap, from the limb leads where there is no strap; nothing when neither was recorded.
inline std::optional<BeatTrain> beats_of(int person, const char* activity) {
  constexpr std::size_t fewest = 30;
  for (const char* leads : {"cs", "cables"}) {
    char name[96];
    std::snprintf(name, sizeof name, "subject_%02d__%s__annotation_%s.tsv", person, activity, leads);
    std::ifstream file(folder().value() / name);
    BeatTrain train;
    for (double sample = 0; file >> sample;) {
      Beat beat;
      beat.sample = SampleIndex{static_cast<std::int64_t>(sample)};
      beat.time = time_of(beat.sample, clock_rate);
      beat.confidence = 1.0;
      if (train.candidates.empty() || train.candidates.back().time < beat.time) train.candidates.push_back(beat);
    }
    if (train.candidates.size() < fewest) continue;
    train.duration = train.candidates.back().time + 500_ms;
    return train;
  }
  return std::nullopt;
}

}  // namespace pulsewright::activity
