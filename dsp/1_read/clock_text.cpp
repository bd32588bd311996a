#include "clock_text.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Takes 1 to `most` digits off `text`.
std::optional<int> take_digits(std::string_view& text, std::size_t most) {
  int value = 0;
  std::size_t n = 0;
  while (n < most && n < text.size() && is_digit(text[n])) value = value * 10 + (text[n++] - '0');
  if (n == 0) return std::nullopt;
  text.remove_prefix(n);
  return value;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

/// Takes a date off `text`; leaves it alone when there is none.
std::optional<std::int64_t> take_date(std::string_view& text) {
  std::string_view rest = text;
  const auto first = take_digits(rest, 4);
  if (!first || rest.empty()) return std::nullopt;
  const char mark = rest.front();
  if (mark != '-' && mark != '/' && mark != '.') return std::nullopt;
  const bool year_first = *first > 31;
  if (!year_first && mark != '.') return std::nullopt;
  rest.remove_prefix(1);
  const auto month = take_digits(rest, 2);
  if (!month || !take(rest, mark)) return std::nullopt;
  const auto third = take_digits(rest, year_first ? 2 : 4);
  if (!third) return std::nullopt;
  const int year = year_first ? *first : *third;
  const int day = year_first ? *third : *first;
  if (year < 1900) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(*month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  if (!date.ok()) return std::nullopt;
  text = rest;
  return std::chrono::sys_days{date}.time_since_epoch().count();
}

/// Takes the fraction of a second off `text`.
bool take_fraction(std::string_view& text, ClockTime& time) {
  if (!take(text, '.') && !take(text, ',')) return true;
  double unit = 1;
  std::size_t n = 0;
  double digits = 0;
  constexpr std::size_t enough = 9;
  for (; n < text.size() && is_digit(text[n]); ++n)
    if (n < enough) {
      digits = digits * 10 + (text[n] - '0');
      unit *= 10;
    }
  if (n == 0) return false;
  time.second += digits / unit;
  time.resolution = 1 / unit;
  text.remove_prefix(n);
  return true;
}

bool take_time(std::string_view& text, ClockTime& time) {
  constexpr int longest_minutes = 100'000;
  const auto first = take_digits(text, 5);
  if (!first || !take(text, ':')) return false;
  const auto second = take_digits(text, 2);
  if (!second || *second > 59) return false;
  if (take(text, ':')) {
    const auto third = take_digits(text, 2);
    if (!third || *third > 60) return false;
    time.of_day = true;
    time.second = *first * 3600.0 + *second * 60.0 + *third;
  } else {
    if (*first >= longest_minutes) return false;
    time.second = *first * 60.0 + *second;
  }
  time.has_time = true;
  return take_fraction(text, time);
}

bool take_zone(std::string_view& text, ClockTime& time) {
  if (take(text, 'Z') || take(text, 'z')) {
    time.zone = 0;
    return true;
  }
  if (text.empty() || (text.front() != '+' && text.front() != '-')) return true;
  const int sign = text.front() == '-' ? -1 : 1;
  text.remove_prefix(1);
  const auto hours = take_digits(text, 2);
  take(text, ':');
  const auto minutes = text.empty() ? std::optional<int>{0} : take_digits(text, 2);
  if (!hours || !minutes || *hours > 14 || *minutes > 59) return false;
  time.zone = sign * (*hours * 3600 + *minutes * 60);
  return true;
}

}  // namespace

std::optional<ClockTime> parse_clock(std::string_view text) {
  text = trimmed(text);
  if (text.size() > 2 && text.front() == '[' && text.back() == ']') text = text.substr(1, text.size() - 2);
  if (text.size() < 4 || text.size() > 40 || !is_digit(text.front())) return std::nullopt;
  ClockTime time;
  time.day = take_date(text);
  if (time.day) {
    if (text.empty()) return time;
    if (!take(text, 'T') && !take(text, ' ')) return std::nullopt;
    text = trimmed(text);
  }
  if (!take_time(text, time)) return std::nullopt;
  if (time.day && (!time.of_day || time.second >= 86401)) return std::nullopt;
  text = trimmed(text);
  if (!take_zone(text, time) || !text.empty()) return std::nullopt;
  return time;
}

std::string iso_of(const ClockTime& time) {
  const auto milliseconds = static_cast<std::int64_t>(std::floor(time.second * 1000 + 0.5));
  std::string text;
  if (time.day) {
    const std::chrono::year_month_day date{std::chrono::sys_days{std::chrono::days{*time.day}}};
    text = fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
    if (!time.has_time) return text;
    text += 'T';
  }
  const std::int64_t seconds = milliseconds / 1000;
  text += fmt::format("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
  if (milliseconds % 1000 != 0) text += fmt::format(".{:03}", milliseconds % 1000);
  if (time.zone) {
    const std::int64_t minutes = std::abs(*time.zone) / 60;
    text += minutes == 0 ? "Z" : fmt::format("{}{:02}:{:02}", *time.zone < 0 ? '-' : '+', minutes / 60, minutes % 60);
  }
  return text;
}

}  // namespace pulsewright::reading
