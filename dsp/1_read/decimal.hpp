/// Plain decimal numbers, the way loggers write nearly all of theirs.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace pulsewright::reading {

struct Decimal {
  double value = 0;
  int decimals = 0;  ///< digits behind the point
};

/// Takes a minus, digits, and a point with digits behind it (minus and point may be missing) off the front of `rest`. The value is the double nearest to what is written. False,
/// and nothing is taken, where no such number stands or it has more digits than 15: those need a slower reader.
[[nodiscard]] inline bool take_decimal(std::string_view& rest, Decimal& number) {
  // Both whole numbers below 10^15 and these powers are doubles without rounding, so that their quotient is rounded once.
  constexpr int most_digits = 15;
  constexpr std::array<double, most_digits + 1> powers_of_ten{1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                              1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  const char* at = rest.data();
  const char* const end = at + rest.size();
  const bool negative = at < end && *at == '-';
  if (negative) ++at;
  std::int64_t digits_value = 0;
  const auto take_digits = [&] {
    const char* const first = at;
    for (; at < end && *at >= '0' && *at <= '9' && at - first <= most_digits; ++at)
      digits_value = 10 * digits_value + (*at - '0');
    return static_cast<int>(at - first);
  };
  const int whole = take_digits();
  if (whole == 0 || whole > most_digits) return false;
  int decimals = 0;
  if (at < end && *at == '.') {
    ++at;
    decimals = take_digits();
    if (decimals == 0 || whole + decimals > most_digits) return false;
  }
  const double size = static_cast<double>(digits_value) / powers_of_ten[static_cast<std::size_t>(decimals)];
  number = {negative ? -size : size, decimals};
  rest.remove_prefix(static_cast<std::size_t>(at - rest.data()));
  return true;
}

}  // namespace pulsewright::reading
