#include "figure_style.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <string_view>

#include "8_report/embedded_text.hpp"
#include "figure.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \n");
  return first == std::string_view::npos ? std::string_view{}
                                         : text.substr(first, text.find_last_not_of(" \n") - first + 1);
}

/// The variables of the first rule of a style sheet.
std::map<std::string, std::string, std::less<>> first_rule(std::string_view sheet) {
  std::map<std::string, std::string, std::less<>> variables;
  const std::size_t open = sheet.find('{');
  std::string_view body = sheet.substr(open + 1, sheet.find('}', open) - open - 1);
  while (!body.empty()) {
    const std::string_view line = body.substr(0, body.find(';'));
    body.remove_prefix(std::min(body.size(), line.size() + 1));
    const std::size_t colon = line.find(':');
    if (colon == std::string_view::npos) continue;
    variables.emplace(trimmed(line.substr(0, colon)), trimmed(line.substr(colon + 1)));
  }
  return variables;
}

/// `4 2` or `1.5` times the points of the grid in a px.
std::string on_grid(std::string_view lengths) {
  std::string scaled;
  while (!lengths.empty()) {
    double length = 0;
    const auto end = std::from_chars(lengths.data(), lengths.data() + lengths.size(), length);
    if (end.ec != std::errc{}) break;
    if (!scaled.empty()) scaled += ' ';
    scaled += format_number(length * grid_per_px, 1);
    lengths = trimmed(lengths.substr(static_cast<std::size_t>(end.ptr - lengths.data())));
  }
  return scaled;
}

/// For every rule that sets the width or the dashes of a line, one for lines that are drawn on the grid.
std::string rules_on_grid(std::string_view sheet) {
  std::string rules;
  while (sheet.find('{') != std::string_view::npos) {
    const std::size_t open = sheet.find('{'), close = sheet.find('}', open);
    const std::string_view selector = trimmed(sheet.substr(0, open));
    std::string_view body = sheet.substr(open + 1, close - open - 1);
    sheet.remove_prefix(close + 1);
    std::string scaled;
    while (!body.empty() && selector.find(',') == std::string_view::npos) {
      const std::string_view line = body.substr(0, body.find(';'));
      body.remove_prefix(std::min(body.size(), line.size() + 1));
      const std::size_t colon = line.find(':');
      if (colon == std::string_view::npos) continue;
      const std::string_view property = trimmed(line.substr(0, colon));
      if (property != "stroke-width" && property != "stroke-dasharray") continue;
      scaled.append(property).append(": ").append(on_grid(trimmed(line.substr(colon + 1)))).append("; ");
    }
    if (!scaled.empty()) rules.append(".paths ").append(selector).append(" { ").append(scaled).append("}\n");
  }
  return rules.append(".paths path { vector-effect: none; }\n");
}

}  // namespace

std::string figure_style_alone() {
  const auto light = first_rule(embedded_text("theme.css").text);
  std::string_view rest = embedded_text("figure.css").text;
  std::string style;
  constexpr std::string_view use = "var(";
  for (std::size_t at = rest.find(use); at != std::string_view::npos; at = rest.find(use)) {
    const std::size_t close = rest.find(')', at);
    const auto variable = light.find(rest.substr(at + use.size(), close - at - use.size()));
    if (variable == light.end())
      throw Error(ErrorCode::contract, "figure.css asks for a variable that theme.css does not set: " +
                                           std::string(rest.substr(at, close - at + 1)));
    style += rest.substr(0, at);
    style += variable->second;
    rest.remove_prefix(close + 1);
  }
  style += rest;
  return style + rules_on_grid(style);
}

}  // namespace pulsewright
