/// How a command joins the program: one function that adds its subcommand and leaves behind what is to be run.
#pragma once

#include <functional>

#include "options/command_line.hpp"

namespace pulsewright::program {

/// Exit codes of the contract.
enum class ExitCode : int {
  done = 0,
  no_value = 1,    ///< the principal output has no value anywhere, or a file of a batch failed
  usage = 2,       ///< the command line contradicts itself or names something that is not there
  unreadable = 3,  ///< an input could not be read, or an output not be written
};

/// The command line being built. The chosen subcommand's callback sets `run`, which is called after the whole line was understood, so
/// that errors of usage come before any work.
struct Program {
  Command& app;
  std::function<ExitCode()> run;
};

/// What every command file offers.
using AddCommand = void (*)(Program&);

}  // namespace pulsewright::program
