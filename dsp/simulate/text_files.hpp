/// Recording and truth as text.
#pragma once

#include <string>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// CSV of the channels: `time_s`, then NAME_UNIT of each; a sample that is missing is an empty cell.
[[nodiscard]] std::string recording_csv(const Simulation& simulation);

[[nodiscard]] std::string truth_beats_csv(const BeatTrain& beats);
[[nodiscard]] std::string truth_pulse_csv(const Truth& truth);
[[nodiscard]] std::string truth_rate_csv(const BeatTrain& beats);
[[nodiscard]] std::string truth_course_csv(const Truth& truth);
[[nodiscard]] std::string truth_json(const Simulation& simulation);

}  // namespace pulsewright::simulation
