#include "value_checks.hpp"

#include <algorithm>
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
Check check(const std::string& rule, Rule holds) {
  return [rule, holds](const std::string& text) {
    const std::optional<double> value = finite_number(text);
    if (value && holds(*value)) return std::string{};
    return "'" + text + "' is not a number " + rule;
  };
}

std::string plain(double value) {
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << value;
  return text.str();
}

}  // namespace

Check number_between(double low, double high) {
  return check("from " + plain(low) + " to " + plain(high), [low, high](double v) { return low <= v && v <= high; });
}

Check number_above_zero() {
  return check("above 0", [](double v) { return v > 0; });
}

Check number_from_zero() {
  return check("of 0 or more", [](double v) { return v >= 0; });
}

Check whole_number() {
  return [](const std::string& text) {
    const bool digits = !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
    return digits ? std::string{} : "'" + text + "' is not a whole number of 0 or more";
  };
}

Check one_of(const std::vector<std::string>& words) {
  return [words](const std::string& text) {
    std::string list;
    for (const std::string& word : words) {
      if (word == text) return std::string{};
      list += (list.empty() ? "" : ", ") + word;
    }
    return "'" + text + "' is none of " + list;
  };
}

}  // namespace pulsewright::program
