#include <algorithm>
#include <utility>

#include "8_report/export/effort_parts.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int most_steps = 4;

std::string ranged_key(std::size_t member, const char* name, const char* end, const char* unit) {
  return member_key(member, std::string("effort.session.") + name + end + "_" + unit);
}

/// `shown` makes the traced number of a value.
template <typename Shown>
Markup ranged(const Ranged& value, std::size_t member, const char* name, const char* unit, const Words& words,
              const Shown& shown) {
  const TracedNumber middle = shown(value.value, ranged_key(member, name, "", unit));
  const TracedNumber low = shown(value.low, ranged_key(member, name, "_low", unit));
  const TracedNumber high = shown(value.high, ranged_key(member, name, "_high", unit));
  if (low.shown == high.shown) return traced_markup(middle);
  return traced_sentence(words, "class.ranged", {{"value", middle}, {"low", low}, {"high", high}});
}

}  // namespace

ClassScales class_scales(const ClassComparison& comparison) {
  constexpr double whole_percent = 100;
  AxisRange effort{0, whole_percent}, time{0, 1};
  std::optional<AxisRange> rate;
  const auto include = [&rate](BeatsPerMinute value) {
    if (!rate) rate = AxisRange{value.value(), value.value()};
    rate->low = std::min(rate->low, value.value());
    rate->high = std::max(rate->high, value.value());
  };
  for (const ClassMember& member : comparison.members) {
    for (const RateWindow& window : member.rates.windows)
      if (window.rate) include(*window.rate);
    if (!member.session) continue;
    const Effort& account = member.session->effort;
    time.high = std::max(time.high, seconds_of(account.duration_us));
    if (account.target) {
      include(account.target->low);
      include(account.target->high);
    }
    if (account.person.own_ceiling) include(*account.person.own_ceiling);
    if (const auto& mean = member.session->mean_reserve_percent) {
      effort.low = std::min(effort.low, mean->low);
      effort.high = std::max(effort.high, mean->high);
    }
  }
  return {rounded_out(effort, most_steps), time, rounded_out(rate.value_or(AxisRange{40, 200}), most_steps)};
}

std::string member_key(std::size_t member, const std::string& name) {
  return "members." + std::to_string(member) + "." + name;
}

Markup ranged_percent(const Ranged& value, std::size_t member, const Words& words) {
  return ranged(value, member, "mean_reserve", "percent", words, [&words](double number, std::string key) {
    return traced_number(number, 2, 0, std::move(key), words);
  });
}

Markup ranged_time(const Ranged& value, std::size_t member, const Words& words) {
  return ranged(value, member, "in_target", "s", words, [](double number, std::string key) {
    return TracedNumber{format_clock(Seconds{number}), std::move(key), format_number(number, 6)};
  });
}

std::string measure_words(ClassMeasure measure, const PerformanceMeasure& performance, const Words& words) {
  if (measure != ClassMeasure::performance) return words(std::string("class.by.") + to_string(measure));
  const std::string key = "class.performance." + performance.name;
  return words.has(key) ? words(key) : performance.name;
}

}  // namespace pulsewright
