/// What came back from a bench test, file by file.
#pragma once

#include <vector>

#include "options/input_options.hpp"
#include "pulsewright/bench_test.hpp"

namespace pulsewright::program {

/// Scores the folder that `flags` name: for each wave a file NAME.csv, .tsv, .txt, .edf, .hea or .wav that holds rates, beats, or a recording of the wave, as it came back. In a recording, the wave is looked for in
/// the named channel or in the one that holds it best; where the unit is no voltage, the median gain of all recordings makes it mV.
[[nodiscard]] std::vector<BenchResult> score_returned(const InputFlags& flags);

}  // namespace pulsewright::program
