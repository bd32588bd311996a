/// What is said about a command line that cannot be understood.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace pulsewright::program {

/// Names the word that is wrong, the nearest command or option where one is close, and where to read on. `words` are the command line without
/// the program's name.
[[nodiscard]] std::string usage_message(const CLI::App& app, const CLI::ParseError& error,
                                        const std::vector<std::string>& words);

/// The word of `known` that is fewest single-letter changes away from `word`, when those are at most a third of its letters; else empty.
/// Letters put in, left out, replaced, or swapped with their neighbour count one each.
[[nodiscard]] std::string nearest_word(const std::string& word, const std::vector<std::string>& known);

}  // namespace pulsewright::program
