/// What values on the command line may be. Numbers are read without the locale.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace pulsewright::program {

/// A finite number from `low` to `high`, both included.
[[nodiscard]] CLI::Validator number_between(double low, double high);
/// A finite number above zero.
[[nodiscard]] CLI::Validator number_above_zero();
/// A finite number of zero or more.
[[nodiscard]] CLI::Validator number_from_zero();
/// Digits alone: a whole number from 0 on.
[[nodiscard]] CLI::Validator whole_number();
/// One of some words.
[[nodiscard]] CLI::Validator one_of(const std::vector<std::string>& words);

/// Refuses an empty word for every option of `app` and its commands that names a file or folder: as good as not given, it would be written or read elsewhere.
void refuse_empty_paths(CLI::App& app);

}  // namespace pulsewright::program
