/// What is said about a command line that cannot be understood.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace pulsewright::program {

/// Names the word that is wrong, the nearest command or option where one is close, and where to read on. `words` are the command line without
/// the program's name.
[[nodiscard]] std::string usage_message(const CLI::App& app, const CLI::ParseError& error,
                                        const std::vector<std::string>& words);

}  // namespace pulsewright::program
