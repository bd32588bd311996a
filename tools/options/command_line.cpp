#include "command_line.hpp"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>

#include "usage_message.hpp"

namespace pulsewright::program {

Option* Option::check(const Check& holds) {
  option_->check(CLI::Validator([holds](std::string& word) { return holds(word); }, std::string{}));
  return this;
}

Option* Option::type_name(const std::string& name) {
  option_->type_name(name);
  return this;
}

Option* Option::capture_default_str() {
  option_->capture_default_str();
  return this;
}

Option* Option::required() {
  option_->required();
  return this;
}

Option* Option::needs(const Option* other) {
  option_->needs(other->option_);
  return this;
}

Option* Option::excludes(const Option* other) {
  option_->excludes(other->option_);
  return this;
}

Option* Option::delimiter(char separator) {
  option_->delimiter(separator);
  return this;
}

Option* Option::expected(int values) {
  option_->expected(values);
  return this;
}

Option* Option::one_value_each() {
  option_->allow_extra_args(false);
  return this;
}

template <typename Target>
Option* Command::add_option(const std::string& name, Target& target, const std::string& help) {
  return &options_.emplace_back(app_->add_option(name, target, help));
}
template Option* Command::add_option(const std::string&, std::string&, const std::string&);
template Option* Command::add_option(const std::string&, double&, const std::string&);
template Option* Command::add_option(const std::string&, int&, const std::string&);
template Option* Command::add_option(const std::string&, std::uint64_t&, const std::string&);
template Option* Command::add_option(const std::string&, std::optional<double>&, const std::string&);
template Option* Command::add_option(const std::string&, std::optional<int>&, const std::string&);
template Option* Command::add_option(const std::string&, std::vector<std::string>&, const std::string&);
template Option* Command::add_option(const std::string&, std::vector<double>&, const std::string&);

Option* Command::add_flag(const std::string& name, bool& target, const std::string& help) {
  return &options_.emplace_back(app_->add_flag(name, target, help));
}

Command* Command::add_subcommand(const std::string& name, const std::string& help) {
  return &commands_.emplace_back(app_->add_subcommand(name, help));
}

void Command::require_subcommand() { app_->require_subcommand(1); }
void Command::callback(const std::function<void()>& done) { app_->callback(done); }
void Command::footer(const std::string& text) { app_->footer(text); }

void Command::answers(const std::string& name, const std::string& type, const std::string& help,
                      const std::function<std::string(const std::string&)>& answer) {
  if (type.empty()) {
    app_->add_flag_callback(
        name, [answer] { throw CLI::CallForVersion(answer({}), 0); }, help);
  } else {
    app_->add_option_function<std::string>(
            name, [answer](const std::string& word) { throw CLI::CallForVersion(answer(word), 0); }, help)
        ->type_name(type);
  }
}

namespace {

constexpr const char* path_types[] = {"", "DIR", "LOG", "PATH"};

/// Refuses an empty word wherever a file or folder is named: as good as not given, it would be written or read elsewhere.
void refuse_empty_paths(CLI::App& app) {
  const CLI::Validator filled([](std::string& text) { return text.empty() ? "a name is missing" : std::string{}; },
                              std::string{});
  for (CLI::Option* option : app.get_options()) {
    const std::string type = option->get_type_name();
    const bool names_path = type.starts_with("FILE") ||
                            std::find(std::begin(path_types), std::end(path_types), type) != std::end(path_types);
    if (names_path && option->get_items_expected_max() > 0) option->check(filled);
  }
  for (CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) refuse_empty_paths(*command);
}

OptionDescription described(const CLI::Option& option) {
  OptionDescription told;
  told.positional = option.get_positional();
  told.name = told.positional || option.get_lnames().empty() ? option.get_name() : "--" + option.get_lnames().front();
  if (option.get_items_expected_max() > 0) told.type = option.get_type_name();
  told.usual = option.get_default_str();
  told.help = option.get_description();
  told.required = option.get_required();
  return told;
}

CommandDescription described(const CLI::App& app) {
  CommandDescription told{app.get_name(), app.get_description(), app.get_footer(), {}, {}};
  for (const CLI::Option* option : app.get_options()) told.options.push_back(described(*option));
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    told.commands.push_back(described(*command));
  return told;
}

}  // namespace

CommandDescription CommandLine::describe() const { return described(*app_); }

CommandLine::CommandLine(const std::string& name, const std::string& description)
    : app_(std::make_unique<CLI::App>(description, name)), program_(app_.get()) {}

CommandLine::~CommandLine() = default;

Understood CommandLine::understand(int argc, char** argv) {
  refuse_empty_paths(*app_);
  try {
    app_->parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return {app_->help(), {}};
  } catch (const CLI::CallForVersion& asked) {
    return {asked.what(), {}};
  } catch (const CLI::ParseError& error) {
    return {{}, usage_message(*app_, error, {argv + 1, argv + argc})};
  }
  return {};
}

}  // namespace pulsewright::program
