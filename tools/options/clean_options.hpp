/// Options that say how flagged intervals are corrected.
#pragma once

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "pulsewright/clean.hpp"

namespace pulsewright::program {

struct CleanFlags {
  std::string correction = "repair";
};

/// --correction.
void add_clean_options(CLI::App& command, CleanFlags& flags);
[[nodiscard]] CleanOptions clean_options(const CleanFlags& flags);
/// The flags that differ from their defaults, under their names without dashes.
[[nodiscard]] nlohmann::ordered_json settings(const CleanFlags& flags);

}  // namespace pulsewright::program
