/// The program: reads the command line, runs the chosen command, turns refusals into exit codes.
#include <csignal>
#include <exception>

#include "commands.hpp"
#include "options/command_line.hpp"
#include "options/help_ending.hpp"
#include "options/program_answers.hpp"
#include "pulsewright/error.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

ExitCode understand_and_run(CommandLine& line, Program& program, int argc, char** argv) {
  try {
    const Understood understood = line.understand(argc, argv);
    if (!understood.fault.empty()) {
      talk_error(understood.fault);
      return ExitCode::usage;
    }
    if (program.run) return program.run();
    print(understood.answer);
  } catch (const Error& error) {
    talk_error(error.what());
    return error.code() == ErrorCode::usage ? ExitCode::usage : ExitCode::unreadable;
  }
  return ExitCode::done;
}

}  // namespace
}  // namespace pulsewright::program

int main(int argc, char** argv) {
  using namespace pulsewright::program;
  std::signal(SIGPIPE, SIG_IGN);  // a reader that has seen enough is no error: print() meets EPIPE instead
  try {
    CommandLine line("pulsewright",
                     "From raw ECG or optical-pulse samples to beats, heart rate, variability and effort.");
    add_answers(line);
    line.program().require_subcommand();
    line.program().footer(exit_codes_help);
    Program program{line.program(), {}};
    for (const AddCommand add : all_commands) add(program);
    return static_cast<int>(understand_and_run(line, program, argc, argv));
  } catch (const ClosedPipe&) {
    return static_cast<int>(ExitCode::done);
  } catch (const std::exception& error) {  // an output that cannot be written, or no memory left
    talk_error(error.what());
    return static_cast<int>(ExitCode::unreadable);
  }
}
