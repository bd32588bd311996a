/// The program: reads the command line, runs the chosen command, turns refusals into exit codes.
#include <csignal>
#include <exception>

#include "commands.hpp"
#include "options/help_ending.hpp"
#include "options/usage_message.hpp"
#include "options/value_checks.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/recording.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

ExitCode understand_and_run(Program& program, int argc, char** argv) {
  try {
    program.app.parse(argc, argv);
    return program.run();
  } catch (const CLI::CallForHelp&) {
    print(program.app.help());
  } catch (const CLI::CallForVersion&) {
    print(std::string("pulsewright ") + version() + "\n");
  } catch (const CLI::ParseError& error) {
    talk_error(usage_message(program.app, error, {argv + 1, argv + argc}));
    return ExitCode::usage;
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
    Program program;
    program.app.name("pulsewright");
    program.app.description("From raw ECG or optical-pulse samples to beats, heart rate, variability and effort.");
    program.app.set_version_flag("--version", pulsewright::version());
    program.app.require_subcommand(1);
    program.app.footer(exit_codes_help);
    for (const AddCommand add : all_commands) add(program);
    refuse_empty_paths(program.app);
    return static_cast<int>(understand_and_run(program, argc, argv));
  } catch (const ClosedPipe&) {
    return static_cast<int>(ExitCode::done);
  } catch (const std::exception& error) {  // an output that cannot be written, or no memory left
    talk_error(error.what());
    return static_cast<int>(ExitCode::unreadable);
  }
}
