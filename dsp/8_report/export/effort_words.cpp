#include <cmath>

#include "effort_parts.hpp"

namespace pulsewright {

const char* words_of(Intensity intensity) {
  static constexpr const char* words[] = {"very light", "light", "moderate", "vigorous", "near-maximal"};
  return words[static_cast<std::size_t>(intensity)];
}

std::string words_of(const Phase& phase) {
  static constexpr const char* words[] = {"rest", "warm-up", "work", "pause", "cool-down"};
  const std::string kind = words[static_cast<std::size_t>(phase.kind)];
  return phase.name.empty() ? kind : phase.name + " (" + kind + ")";
}

std::string clock_of(std::int64_t us) { return format_clock(Seconds{seconds_of(us)}); }

double seconds_of(std::int64_t us) { return static_cast<double>(us) / 1e6; }

std::string ranged_text(const Ranged& value, int decimals, const std::string& unit) {
  const std::string low = format_number(value.low, decimals), high = format_number(value.high, decimals);
  const std::string text = format_number(value.value, decimals) + (unit.empty() ? "" : " " + unit);
  return low == high ? text : text + " (" + low + " to " + high + ")";
}

std::string ranged_clock(const Ranged& seconds) {
  const std::string low = format_clock(Seconds{seconds.low}), high = format_clock(Seconds{seconds.high});
  const std::string text = format_clock(Seconds{seconds.value});
  return low == high ? text : text + " (" + low + " to " + high + ")";
}

std::optional<double> number_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

}  // namespace pulsewright
