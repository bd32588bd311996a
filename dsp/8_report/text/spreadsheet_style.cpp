#include <algorithm>
#include <array>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

/// Languages whose spreadsheets write a decimal comma, and therefore a semicolon between cells (Unicode CLDR number symbols [from memory]).
constexpr std::array<std::string_view, 36> comma_languages{
    "af", "az", "be", "bg", "bs", "ca", "cs", "da", "de", "el", "es", "et", "eu", "fi", "fr", "gl", "hr", "hu",
    "hy", "id", "is", "it", "ka", "kk", "lt", "lv", "mk", "nb", "nl", "nn", "no", "pl", "pt", "ro", "ru", "sk"};
constexpr std::array<std::string_view, 7> more_comma_languages{"sl", "sq", "sr", "sv", "tr", "uk", "vi"};
/// Languages with a decimal point. `C` is the plain style.
constexpr std::array<std::string_view, 14> point_languages{"C",  "POSIX", "cy", "en", "ga", "he", "hi",
                                                           "ja", "ko",    "ms", "mt", "sw", "th", "zh"};
/// Places whose spreadsheets write a point although their language has a comma.
constexpr std::array<std::string_view, 3> point_places{"de_CH", "de_LI", "es_MX"};

template <class List>
bool contains(const List& list, std::string_view word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

}  // namespace

std::optional<NumberStyle> spreadsheet_style(std::string_view locale) {
  std::string name(locale.substr(0, locale.find_first_of(".@")));
  std::replace(name.begin(), name.end(), '-', '_');
  const std::string_view language = std::string_view(name).substr(0, name.find('_'));
  if (contains(point_places, name)) return NumberStyle{'.', name == "es_MX" ? ',' : ';'};
  if (contains(comma_languages, language) || contains(more_comma_languages, language)) return NumberStyle{',', ';'};
  if (contains(point_languages, language)) return NumberStyle{};
  return std::nullopt;
}

}  // namespace pulsewright
