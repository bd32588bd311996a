#include <algorithm>
#include <utility>

#include "8_report/export/class_words.hpp"
#include "8_report/export/effort_parts.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int most_steps = 4;

/// `shown` makes the traced number of a value.
template <typename Shown>
Markup ranged(const Ranged& value, const std::string& key, const char* name, const char* unit, const Words& words,
              const Shown& shown) {
  const auto key_of = [&](const char* end) { return key + name + end + "_" + unit; };
  const TracedNumber middle = shown(value.value, key_of(""));
  const TracedNumber low = shown(value.low, key_of("_low"));
  const TracedNumber high = shown(value.high, key_of("_high"));
  if (low.shown == high.shown) return traced_markup(middle);
  return traced_sentence(words, "class.ranged", {{"value", middle}, {"low", low}, {"high", high}});
}

}  // namespace

namespace {

/// The middle of sorted values at a share of the way.
double at_share(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + (place - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

}  // namespace

std::optional<AxisRange> without_far_out(std::vector<double> values) {
  if (values.empty()) return std::nullopt;
  std::sort(values.begin(), values.end());
  constexpr double far = 3.0;
  const double lower = at_share(values, 0.25), upper = at_share(values, 0.75), reach = far * (upper - lower);
  std::erase_if(values, [&](double value) { return value < lower - reach || upper + reach < value; });
  return AxisRange{values.front(), values.back()};
}

namespace {

AxisRange joined(const AxisRange& a, const std::optional<AxisRange>& b) {
  return b ? AxisRange{std::min(a.low, b->low), std::max(a.high, b->high)} : a;
}

AxisRange rates_of(const ClassComparison& comparison) {
  std::vector<double> lowest, highest, bounds;
  for (const ClassMember& member : comparison.members) {
    std::optional<AxisRange> own;
    for (const RateWindow& window : member.rates.windows) {
      if (!window.rate) continue;
      const double rate = window.rate->value();
      own = own ? AxisRange{std::min(own->low, rate), std::max(own->high, rate)} : AxisRange{rate, rate};
    }
    if (own) lowest.push_back(own->low), highest.push_back(own->high);
    if (!member.session) continue;
    const Effort& account = member.session->effort;
    if (account.target) {
      bounds.push_back(account.target->low.value());
      bounds.push_back(account.target->high.value());
    }
    if (account.person.own_ceiling) bounds.push_back(account.person.own_ceiling->value());
  }
  const auto low = without_far_out(lowest), high = without_far_out(highest), target = without_far_out(bounds);
  if (!low || !high) return target.value_or(AxisRange{40, 200});
  return joined({low->low, high->high}, target);
}

void add_times(ClassScales& scales, const ClassComparison& comparison) {
  std::vector<double> starts, ends;
  const bool on_lesson = std::any_of(comparison.members.begin(), comparison.members.end(),
                                     [](const ClassMember& member) { return member.lesson_s.has_value(); });
  for (const ClassMember& member : comparison.members) {
    if (!member.session || (on_lesson && !member.lesson_s)) continue;
    const double start = member.lesson_s ? member.lesson_s->value() : 0.0;
    starts.push_back(start);
    ends.push_back(start + seconds_of(member.session->effort.duration_us));
  }
  const auto start = without_far_out(starts), end = without_far_out(ends);
  if (!start || !end) return;
  scales.origin_s = start->low;
  scales.time_s = {0, std::max(end->high - start->low, 1.0)};
  const Span& lesson = comparison.common.lesson;
  if (!on_lesson || !(lesson.start < lesson.end)) return;
  const AxisRange common{lesson.start.value() - scales.origin_s, lesson.end.value() - scales.origin_s};
  constexpr double edge_s = 2.0;
  if (common.low > scales.time_s.low + edge_s || common.high < scales.time_s.high - edge_s) scales.common = common;
}

}  // namespace

ClassScales class_scales(const ClassComparison& comparison) {
  constexpr double whole_percent = 100;
  ClassScales scales{{0, whole_percent}, {0, 1}, {}, 0, std::nullopt};
  std::vector<double> efforts;
  for (std::size_t i = 0; i < comparison.members.size(); ++i) {
    const auto shown = shown_effort(comparison.members[i], i);
    if (!shown || !shown->mean_reserve_percent || !is_judged(comparison.members[i])) continue;
    efforts.push_back(shown->mean_reserve_percent->low);
    efforts.push_back(shown->mean_reserve_percent->high);
  }
  scales.effort_percent = rounded_out(joined(scales.effort_percent, without_far_out(efforts)), most_steps);
  scales.rate_bpm = rounded_out(rates_of(comparison), most_steps);
  add_times(scales, comparison);
  return scales;
}

std::string member_key(std::size_t member, const std::string& name) {
  return "members." + std::to_string(member) + "." + name;
}

Markup ranged_percent(const Ranged& value, const std::string& key, const Words& words) {
  return ranged(value, key, "mean_reserve", "percent", words, [&words](double number, std::string place) {
    return traced_number(number, 2, 0, std::move(place), words);
  });
}

Markup ranged_time(const Ranged& value, const std::string& key, const Words& words) {
  return ranged(value, key, "in_target", "s", words, [](double number, std::string place) {
    return TracedNumber{format_clock(Seconds{number}), std::move(place), format_number(number, 6)};
  });
}

std::string measure_words(ClassMeasure measure, const PerformanceMeasure& performance, const Words& words) {
  if (measure != ClassMeasure::performance) return words(std::string("class.by.") + to_string(measure));
  const std::string key = "class.performance." + performance.name;
  return words.has(key) ? words(key) : performance.name;
}

}  // namespace pulsewright
