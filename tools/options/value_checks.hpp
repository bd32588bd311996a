/// What values on the command line may be. Numbers are read without the locale.
#pragma once

#include <string>
#include <vector>

#include "command_line.hpp"

namespace pulsewright::program {

/// A finite number from `low` to `high`, both included.
[[nodiscard]] Check number_between(double low, double high);
/// A finite number above zero.
[[nodiscard]] Check number_above_zero();
/// A finite number of zero or more.
[[nodiscard]] Check number_from_zero();
/// Digits alone: a whole number from 0 on.
[[nodiscard]] Check whole_number();
/// One of some words.
[[nodiscard]] Check one_of(const std::vector<std::string>& words);

}  // namespace pulsewright::program
