#include "pulsewright/cell_text.hpp"

#include <algorithm>

namespace pulsewright {
namespace {

/// Whether a spreadsheet takes the text for a formula.
bool looks_like_a_formula(std::string_view text) {
  constexpr std::string_view of_codes = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  if (text.starts_with('-')) return text.find_first_not_of(of_codes) != std::string_view::npos;
  return text.find_first_of("=+@\t\r") == 0;
}

std::string_view behind_apostrophes(std::string_view text) {
  return text.substr(std::min(text.find_first_not_of('\''), text.size()));
}

}  // namespace

std::string guarded_cell(std::string_view text) {
  std::string cell{text};
  if (looks_like_a_formula(behind_apostrophes(text))) cell.insert(0, 1, '\'');
  return cell;
}

std::string_view unguarded_cell(std::string_view cell) {
  if (cell.starts_with('\'') && looks_like_a_formula(behind_apostrophes(cell))) cell.remove_prefix(1);
  return cell;
}

}  // namespace pulsewright
