#include "usage_message.hpp"

#include <algorithm>
#include <cstddef>

namespace pulsewright::program {
namespace {

/// Single-letter changes between two words, a swap of neighbours being one (Damerau 1964, Comm. ACM 7:171; optimal string alignment).
std::size_t changes_between(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

/// Letters that two words begin with in common.
std::size_t letters_alike(const std::string& a, const std::string& b) {
  const std::size_t length = std::min(a.size(), b.size());
  std::size_t alike = 0;
  while (alike < length && a[alike] == b[alike]) ++alike;
  return alike;
}

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

std::string nearest_word(const std::string& word, const std::vector<std::string>& known) {
  std::string nearest;
  std::size_t fewest = std::max<std::size_t>(word.size() / 3, 1) + 1, most_alike = 0;
  for (const std::string& candidate : known) {
    const std::size_t changes = changes_between(word, candidate), alike = letters_alike(word, candidate);
    if (changes > fewest || (changes == fewest && (nearest.empty() || alike <= most_alike))) continue;
    fewest = changes;
    most_alike = alike;
    nearest = candidate;
  }
  return nearest;
}

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
