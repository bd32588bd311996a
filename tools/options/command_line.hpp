/// The command line as commands describe it and as it is understood. The library that parses it stays behind command_line.cpp.
#pragma once

#include <deque>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace pulsewright::program {

/// What is wrong with a word, in words that follow the option's name; empty when nothing is.
using Check = std::function<std::string(const std::string& word)>;

/// An option, flag or positional argument.
class Option {
 public:
  explicit Option(CLI::Option* option) : option_(option) {}

  Option* check(const Check& holds);
  /// What stands for the value in the help: a unit in capitals, or the words to choose from.
  Option* type_name(const std::string& name);
  /// The help names the present value as the usual one.
  Option* capture_default_str();
  Option* required();
  Option* needs(const Option* other);
  Option* excludes(const Option* other);
  /// Between the parts of a value that holds several.
  Option* delimiter(char separator);
  Option* expected(int values);
  /// One value for each time that the option is given.
  Option* one_value_each();

 private:
  friend class Command;
  CLI::Option* option_;
};

/// A command, or the whole program.
class Command {
 public:
  explicit Command(CLI::App* app) : app_(app) {}

  /// An option (`--name`) or positional argument (`NAME`) whose value goes to `target`: text, a number, an optional number, or a list of texts or
  /// numbers.
  template <typename Target>
  Option* add_option(const std::string& name, Target& target, const std::string& help);
  Option* add_flag(const std::string& name, bool& target, const std::string& help);
  Command* add_subcommand(const std::string& name, const std::string& help);
  void require_subcommand();
  /// What is done once the whole line was understood.
  void callback(const std::function<void()>& done);
  void footer(const std::string& text);
  /// A flag or, with `type`, an option whose word `answer` takes: the answer is printed, and nothing is run. Throws what `answer` throws.
  void answers(const std::string& name, const std::string& type, const std::string& help,
               const std::function<std::string(const std::string& word)>& answer);

 private:
  CLI::App* app_;
  std::deque<Option> options_;
  std::deque<Command> commands_;
};

/// An option as it is told of in help, manual and completion.
struct OptionDescription {
  std::string name;  ///< with its dashes; of a positional argument without
  std::string
      type;  ///< what stands for the value: a unit, `FILE`, words to choose from parted by bars; empty for a flag
  std::string usual;  ///< the value where the option is not given, when that is told
  std::string help;
  bool positional = false, required = false;
};

/// A command, its options, and the commands below it.
struct CommandDescription {
  std::string name, help, ending;
  std::vector<OptionDescription> options;
  std::vector<CommandDescription> commands;
};

/// What understanding a command line led to.
struct Understood {
  std::string answer;  ///< help or version, where they were asked for: nothing is to be run
  std::string fault;   ///< what is wrong with the line
};

/// The whole command line.
class CommandLine {
 public:
  CommandLine(const std::string& name, const std::string& description);
  ~CommandLine();

  [[nodiscard]] Command& program() { return program_; }
  [[nodiscard]] CommandDescription describe() const;
  /// Runs the callback of the chosen command, whose errors pass through.
  [[nodiscard]] Understood understand(int argc, char** argv);

 private:
  std::unique_ptr<CLI::App> app_;
  Command program_;
};

}  // namespace pulsewright::program
