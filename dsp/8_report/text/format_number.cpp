#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

/// Room for the longest fixed notation of a double: sign, 309 digits, point, 1074 decimals (IEEE 754 binary64).
constexpr std::size_t longest_fixed = 1400;

/// The shortest decimal digits that name `value` again, in fixed notation, without a sign.
std::string shortest_digits(double value) {
  std::array<char, longest_fixed> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::fabs(value), std::chars_format::fixed);
  return {buffer.data(), end.ptr};
}

/// Adds one to the last digit of a string of digits, carrying.
void count_up(std::string& digits) {
  for (auto digit = digits.rbegin(); digit != digits.rend(); ++digit) {
    if (*digit != '9') {
      ++*digit;
      return;
    }
    *digit = '0';
  }
  digits.insert(digits.begin(), '1');
}

}  // namespace

std::string format_number(std::optional<double> value, int decimals, const NumberStyle& style) {
  if (!value || !std::isfinite(*value)) return {};
  const std::string digits = shortest_digits(*value);
  const std::size_t point = std::min(digits.find('.'), digits.size());
  const std::string fraction = point < digits.size() ? digits.substr(point + 1) : std::string{};
  const auto places = static_cast<std::size_t>(std::clamp(decimals, 0, 15));

  std::string kept = digits.substr(0, point) + fraction.substr(0, places);
  if (fraction.size() < places) kept.append(places - fraction.size(), '0');
  if (fraction.size() > places && fraction[places] >= '5') count_up(kept);

  const bool zero = kept.find_first_not_of('0') == std::string::npos;
  if (places > 0) kept.insert(kept.size() - places, 1, style.decimal);
  if (*value < 0 && !zero) kept.insert(kept.begin(), '-');
  return kept;
}

std::string format_clock(Seconds time) {
  const long long whole = std::llround(std::floor(std::max(0.0, time.value()) + 0.5));
  const long long hours = whole / 3600, minutes = whole / 60 % 60, seconds = whole % 60;
  if (hours > 0) return fmt::format("{}:{:02}:{:02}", hours, minutes, seconds);
  return fmt::format("{}:{:02}", minutes, seconds);
}

long whole_beats(BeatsPerMinute rate) {
  constexpr double slack = 1e-9;  // beats/min; far above rounding errors of a short sum, far below anything measured
  return static_cast<long>(std::floor(rate.value() + 0.5 + slack));
}

}  // namespace pulsewright
