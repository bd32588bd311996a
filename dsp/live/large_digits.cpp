#include "large_digits.hpp"

#include <array>

namespace pulsewright::live_stage {
namespace {

using Shape = std::array<std::string_view, large_rows>;

constexpr std::array<Shape, 10> digits{{
    {" ##### ", "##   ##", "##   ##", "##   ##", " ##### "},
    {"  ##   ", " ###   ", "  ##   ", "  ##   ", " ####  "},
    {" ##### ", "##   ##", "   ### ", " ###   ", "#######"},
    {"###### ", "     ##", " ##### ", "     ##", "###### "},
    {"##  ## ", "##  ## ", "#######", "    ## ", "    ## "},
    {"#######", "##     ", "###### ", "     ##", "###### "},
    {" ##### ", "##     ", "###### ", "##   ##", " ##### "},
    {"#######", "    ## ", "   ##  ", "  ##   ", "  ##   "},
    {" ##### ", "##   ##", " ##### ", "##   ##", " ##### "},
    {" ##### ", "##   ##", " ######", "     ##", " ##### "},
}};
constexpr Shape dash{"       ", "       ", " ##### ", "       ", "       "};
constexpr Shape blank{"       ", "       ", "       ", "       ", "       "};

}  // namespace

std::vector<std::string> large_digits(std::string_view text) {
  std::vector<std::string> rows(large_rows);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const Shape& shape = c >= '0' && c <= '9' ? digits[static_cast<std::size_t>(c - '0')] : c == '-' ? dash : blank;
    for (std::size_t r = 0; r < large_rows; ++r) {
      if (i > 0) rows[r] += ' ';
      rows[r] += shape[r];
    }
  }
  return rows;
}

}  // namespace pulsewright::live_stage
