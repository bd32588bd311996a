/// What the command `simulate` was asked for, and what it makes of it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::program {

/// Raw options of the command line. Absent ones leave the scenario as it is.
struct SimulateFlags {
  std::string scenario = "stair-climb";
  std::string person = "wren";
  std::uint64_t seed = 1;
  std::optional<double> duration_s;
  std::optional<double> rate_hz;
  std::vector<std::string> kinds;  ///< `ecg`, `pulse`, `acceleration`; empty: all that the scenario has
  double noise = 1.0;              ///< factor on every disturbance
  std::optional<double> snr_db;
  double movement = 1.0;  ///< factor on every movement artefact
  std::optional<double> losses_per_minute;
  std::string lost = "gap";
  std::optional<int> bits;
  double clock_ppm = 0;
  double jitter_ms = 0;
  std::optional<double> stamps_ms;
  std::string store = "csv";
  std::string name;  ///< of the files; empty: PERSON_SCENARIO
  std::string out;
  bool overwrite = false;
  bool intervals = false;
  bool observer = false;
};

/// The scenario that the options describe. Throws Error{usage}.
[[nodiscard]] Scenario scenario_of(const SimulateFlags& flags);

}  // namespace pulsewright::program
