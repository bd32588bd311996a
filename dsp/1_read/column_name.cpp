#include "column_name.hpp"

#include <algorithm>
#include <array>

#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

/// Spelling in a file (lower case) and the unit as we write it.
struct KnownUnit {
  std::string_view spelling;
  std::string_view unit;
};

constexpr std::array known_units{KnownUnit{"s", "s"},
                                 KnownUnit{"sec", "s"},
                                 KnownUnit{"seconds", "s"},
                                 KnownUnit{"sekunden", "s"},
                                 KnownUnit{"sek", "s"},
                                 KnownUnit{"secondes", "s"},
                                 KnownUnit{"segundos", "s"},
                                 KnownUnit{"seg", "s"},
                                 KnownUnit{"milliseconds", "ms"},
                                 KnownUnit{"millisekunden", "ms"},
                                 KnownUnit{"millisecondes", "ms"},
                                 KnownUnit{"milisegundos", "ms"},
                                 KnownUnit{"ms", "ms"},
                                 KnownUnit{"msec", "ms"},
                                 KnownUnit{"us", "us"},
                                 KnownUnit{"usec", "us"},
                                 KnownUnit{"\xc2\xb5s", "us"},
                                 KnownUnit{"\xce\xbcs", "us"},
                                 KnownUnit{"ns", "ns"},
                                 KnownUnit{"min", "min"},
                                 KnownUnit{"v", "V"},
                                 KnownUnit{"mv", "mV"},
                                 KnownUnit{"uv", "uV"},
                                 KnownUnit{"\xc2\xb5v", "uV"},
                                 KnownUnit{"\xce\xbcv", "uV"},
                                 KnownUnit{"g", "g"},
                                 KnownUnit{"mg", "mg"},
                                 KnownUnit{"dps", "dps"},
                                 KnownUnit{"counts", "counts"},
                                 KnownUnit{"count", "counts"},
                                 KnownUnit{"adc", "counts"},
                                 KnownUnit{"raw", "counts"},
                                 KnownUnit{"bpm", "bpm"},
                                 KnownUnit{"hz", "Hz"},
                                 KnownUnit{"percent", "%"},
                                 KnownUnit{"mmhg", "mmHg"},
                                 KnownUnit{"a.u.", "a.u."},
                                 KnownUnit{"au", "a.u."},
                                 KnownUnit{"nu", "NU"},
                                 KnownUnit{"ohm", "ohm"},
                                 KnownUnit{"deg/s", "deg/s"},
                                 KnownUnit{"rad/s", "rad/s"},
                                 KnownUnit{"m/s2", "m/s2"},
                                 KnownUnit{"m/s^2", "m/s2"},
                                 KnownUnit{"%", "%"},
                                 KnownUnit{"samples", "samples"}};

std::string_view known_unit(std::string_view spelling) {
  const std::string lower = lower_case(spelling);
  const auto found =
      std::find_if(known_units.begin(), known_units.end(), [&](const KnownUnit& u) { return u.spelling == lower; });
  return found == known_units.end() ? std::string_view{} : found->unit;
}

std::string_view inside_brackets(std::string_view cell) {
  if (cell.size() > 2 && ((cell.front() == '[' && cell.back() == ']') || (cell.front() == '(' && cell.back() == ')')))
    return trimmed(cell.substr(1, cell.size() - 2));
  return cell;
}

}  // namespace

std::string bare_unit(std::string_view cell) {
  const std::string_view inside = inside_brackets(trimmed(cell));
  const std::string_view known = known_unit(inside);
  return std::string{known.empty() ? inside : known};
}

bool is_unit_cell(std::string_view cell) {
  const std::string_view word = trimmed(cell);
  return !word.empty() && (inside_brackets(word) != word || !known_unit(word).empty());
}

ColumnName column_name(std::string_view cell) {
  cell = trimmed(cell);
  if (!cell.empty() && (cell.back() == ']' || cell.back() == ')')) {
    const std::size_t open = cell.rfind(cell.back() == ']' ? '[' : '(');
    const bool named = open != std::string_view::npos && open > 0 && open + 2 < cell.size();
    if (named && (cell.back() == ']' || is_unit_cell(inside_brackets(cell.substr(open)))))
      return {std::string{trimmed(cell.substr(0, open))}, bare_unit(cell.substr(open))};
  }
  constexpr std::string_view in = " in ";
  if (const std::size_t at = lower_case(cell).rfind(in); at != std::string_view::npos && at > 0) {
    const std::string_view unit = known_unit(trimmed(cell.substr(at + in.size())));
    if (!unit.empty()) return {std::string{cell}, std::string{unit}};
  }
  const std::size_t mark = cell.rfind('_');
  if (mark != std::string_view::npos && mark > 0) {
    const std::string_view unit = known_unit(cell.substr(mark + 1));
    if (!unit.empty() && lower_case(cell.substr(0, mark)) != "lead") return {std::string{cell}, std::string{unit}};
  }
  return {std::string{cell}, {}};
}

}  // namespace pulsewright::reading
