/// Recording and beats in the open record format: header(5), signal(5) coding 16, annot(5) of the physionet.org manual.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// `STEM.hea`, `STEM.dat` and `STEM.atr`, the last with `beats`.
[[nodiscard]] std::vector<NamedBytes> record_files(const Simulation& simulation, const BeatTrain& beats,
                                                   const std::string& stem);

}  // namespace pulsewright::simulation
