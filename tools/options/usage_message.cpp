#include "usage_message.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstddef>

#include "nearest_word.hpp"

namespace pulsewright::program {
namespace {

/// The innermost command that was named.
const CLI::App* chosen(const CLI::App& app) {
  const CLI::App* command = &app;
  while (!command->get_subcommands().empty()) command = command->get_subcommands().front();
  return command;
}

/// `pulsewright compare beats`.
std::string full_name(const CLI::App* command) {
  std::string name = command->get_name();
  for (const CLI::App* above = command->get_parent(); above != nullptr; above = above->get_parent())
    name = above->get_name() + " " + name;
  return name;
}

std::vector<std::string> commands_of(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    names.push_back(command->get_name());
  return names;
}

std::vector<std::string> options_of(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options())
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  return names;
}

std::string list_of(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words) list += (list.empty() ? "" : ", ") + word;
  return list;
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
  const std::string near = nearest_word(word, known);
  return near.empty() ? "" : "; is " + near + " meant?";
}

/// The first word that is no command where a command has to be.
std::string first_word(const CLI::App* command, const std::vector<std::string>& words) {
  auto place = words.begin();
  if (command->get_parent() != nullptr) {
    place = std::find(words.begin(), words.end(), command->get_name());
    if (place != words.end()) ++place;
  }
  const auto word = std::find_if(place, words.end(), [](const std::string& w) { return !w.starts_with('-'); });
  return word == words.end() ? std::string{} : *word;
}

std::string about_missing_command(const CLI::App* command, const std::vector<std::string>& words) {
  const std::vector<std::string> known = commands_of(*command);
  const std::string word = first_word(command, words);
  const std::string after = command->get_parent() == nullptr ? "" : command->get_name() + " ";
  if (word.empty())
    return (after.empty() ? "a command is missing" : after + "needs one more word") + ": " + list_of(known);
  const std::string near = did_you_mean(word, known);
  return "'" + word + "' is no command" + (after.empty() ? "" : " of " + command->get_name()) +
         (near.empty() ? "; there are " + list_of(known) : near);
}

/// Says which word that looks like an option is none; empty when there is no such word.
std::string unknown_option(const CLI::App* command) {
  for (const CLI::App* app = command; app != nullptr; app = app->get_parent()) {
    const std::vector<std::string> extra = app->remaining(false);
    const auto word = std::find_if(extra.begin(), extra.end(), [](const std::string& w) { return w.starts_with('-'); });
    if (word == extra.end()) continue;
    const std::string name = word->substr(0, word->find('='));
    return "'" + name + "' is no option of " + app->get_name() + did_you_mean(name, options_of(*app));
  }
  return {};
}

std::string about_extra_word(const CLI::App* command, const std::vector<std::string>& words) {
  const std::string option = unknown_option(command);
  if (!option.empty()) return option;
  const std::vector<std::string> extra = command->remaining(true);
  const std::string word = extra.empty() ? std::string{} : extra.front();
  if (command->get_parent() == nullptr) return about_missing_command(command, words);
  return "'" + word + "' is one word too many for " + command->get_name() +
         "; a path or name with blanks needs quotes around it";
}

}  // namespace

std::string usage_message(const CLI::App& app, const CLI::ParseError& error, const std::vector<std::string>& words) {
  const CLI::App* command = chosen(app);
  std::string what = error.what();
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr) {
    what = about_extra_word(command, words);
  } else if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr) {
    const std::string option = unknown_option(command);
    if (!option.empty())
      what = option;
    else if (!commands_of(*command).empty())
      what = about_missing_command(command, words);
    else if (what.ends_with(" is required"))
      what =
          full_name(command).substr(app.get_name().size() + 1) + " needs " + what.substr(0, what.rfind(" is required"));
  } else if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    const std::string name = what.substr(0, what.find(':'));
    what = name +
           (std::count(words.begin(), words.end(), name) > 1 ? " is given more than once" : " needs a value behind it");
  } else if (dynamic_cast<const CLI::ConversionError*>(&error) != nullptr) {
    const std::size_t name = what.find("--"), sign = what.find(" = ");
    if (name < sign && sign != std::string::npos)
      what = "'" + what.substr(sign + 3) + "' is no value for " + what.substr(name, sign - name);
  }
  return what + (what.ends_with('?') ? " See " : "; see ") + full_name(command) + " --help";
}

}  // namespace pulsewright::program
