#include "value_checks.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <sstream>
#include <string_view>

namespace pulsewright::program {
namespace {

std::optional<double> finite_number(const std::string& text) {
  double value = 0;
  const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (failure != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

template <class Rule>
CLI::Validator check(const std::string& rule, Rule holds) {
  return CLI::Validator(
      [rule, holds](std::string& text) {
        const std::optional<double> value = finite_number(text);
        if (value && holds(*value)) return std::string{};
        return "'" + text + "' is not a number " + rule;
      },
      std::string{});
}

std::string plain(double value) {
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << value;
  return text.str();
}

}  // namespace

CLI::Validator number_between(double low, double high) {
  return check("from " + plain(low) + " to " + plain(high), [low, high](double v) { return low <= v && v <= high; });
}

CLI::Validator number_above_zero() {
  return check("above 0", [](double v) { return v > 0; });
}

CLI::Validator number_from_zero() {
  return check("of 0 or more", [](double v) { return v >= 0; });
}

CLI::Validator whole_number() {
  return CLI::Validator(
      [](std::string& text) {
        const bool digits = !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
        return digits ? std::string{} : "'" + text + "' is not a whole number of 0 or more";
      },
      std::string{});
}

CLI::Validator one_of(const std::vector<std::string>& words) {
  return CLI::Validator(
      [words](std::string& text) {
        std::string list;
        for (const std::string& word : words) {
          if (word == text) return std::string{};
          list += (list.empty() ? "" : ", ") + word;
        }
        return "'" + text + "' is none of " + list;
      },
      std::string{});
}

void refuse_empty_paths(CLI::App& app) {
  constexpr std::array<std::string_view, 4> path_types{"", "DIR", "LOG", "PATH"};
  const CLI::Validator filled([](std::string& text) { return text.empty() ? "a name is missing" : std::string{}; },
                              std::string{});
  for (CLI::Option* option : app.get_options()) {
    const std::string type = option->get_type_name();
    const bool names_path =
        type.starts_with("FILE") || std::find(path_types.begin(), path_types.end(), type) != path_types.end();
    const bool takes_path = names_path && option->get_items_expected_max() > 0;
    if (takes_path) option->check(filled);
  }
  for (CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) refuse_empty_paths(*command);
}

}  // namespace pulsewright::program
