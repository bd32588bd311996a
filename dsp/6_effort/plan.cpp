#include "pulsewright/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace pulsewright {

namespace {

constexpr double longest_part_min = 180.0;
constexpr int most_bouts = 50;

[[noreturn]] void refuse(const std::string& text, const std::string& part, const std::string& rule) {
  throw Error{
      ErrorCode::usage,
      fmt::format(
          "plan '{}': '{}': {}; a plan is warm-up, work and cool-down in minutes, as 5-20-5, or with bouts 5-3x4/2-5",
          text, part, rule)};
}

double number_of(const std::string& text, const std::string& part) {
  double value = 0;
  const auto [end, fault] = std::from_chars(part.data(), part.data() + part.size(), value);
  if (part.empty() || fault != std::errc{} || end != part.data() + part.size() || !std::isfinite(value))
    refuse(text, part, "is no number");
  return value;
}

Seconds minutes_of(const std::string& text, const std::string& part) {
  const double value = number_of(text, part);
  if (!(value > 0.0 && value <= longest_part_min))
    refuse(text, part, fmt::format("a part lasts more than 0 and at most {:g} minutes", longest_part_min));
  return Seconds{60.0 * value};
}

/// `20`, `3x4` or `3x4/2`.
void read_work(const std::string& text, const std::string& part, PlanDurations& durations) {
  const std::size_t times = part.find('x'), slash = part.find('/');
  if (times == std::string::npos) {
    if (slash != std::string::npos) refuse(text, part, "pauses lie between bouts, as 3x4/2");
    durations.bouts = {minutes_of(text, part)};
    return;
  }
  const double count = number_of(text, part.substr(0, times));
  if (count != std::floor(count) || count < 1 || count > most_bouts)
    refuse(text, part, fmt::format("the number of bouts is 1 to {}", most_bouts));
  const std::size_t length_end = slash == std::string::npos ? part.size() : slash;
  durations.bouts.assign(static_cast<std::size_t>(count),
                         minutes_of(text, part.substr(times + 1, length_end - times - 1)));
  if (slash != std::string::npos) durations.pause = minutes_of(text, part.substr(slash + 1));
}

}  // namespace

PlanDurations plan_durations(const std::string& text) {
  const std::size_t first = text.find('-');
  const std::size_t second = first == std::string::npos ? first : text.find('-', first + 1);
  if (second == std::string::npos || text.find('-', second + 1) != std::string::npos)
    refuse(text, text, "has not three parts");
  PlanDurations durations;
  durations.warm_up = minutes_of(text, text.substr(0, first));
  read_work(text, text.substr(first + 1, second - first - 1), durations);
  durations.cool_down = minutes_of(text, text.substr(second + 1));
  return durations;
}

std::vector<PlanPhase> session_plan(const TargetZone& target, const PlanDurations& durations) {
  if (durations.bouts.empty()) throw Error{ErrorCode::contract, "session_plan: a plan has at least one bout of work"};
  const auto& bounds = target.from_reserve ? reserve_bounds : maximum_bounds;
  const double light_low = std::min(bounds[0], target.low_fraction);
  const double light_high = std::min(bounds[1], target.low_fraction);
  const BeatsPerMinute base = target.resting && target.from_reserve ? target.resting->rate : BeatsPerMinute{0.0};
  const auto rate = [&](double fraction) {
    const BeatsPerMinute exact = base + fraction * (target.maximum.rate - base);
    return target.own_ceiling ? std::min(exact, *target.own_ceiling) : exact;
  };
  std::vector<PlanPhase> plan;
  Seconds at{0.0};
  const auto add = [&](PhaseKind kind, Seconds length, double low, double high) {
    plan.push_back({kind, {at, at + length}, low, high, rate(low), rate(high)});
    at += length;
  };
  add(PhaseKind::warm_up, durations.warm_up, light_low, target.low_fraction);
  for (std::size_t k = 0; k < durations.bouts.size(); ++k) {
    if (k > 0 && durations.pause.value() > 0.0) add(PhaseKind::pause, durations.pause, light_low, light_high);
    add(PhaseKind::work, durations.bouts[k], target.low_fraction, target.high_fraction);
  }
  add(PhaseKind::cool_down, durations.cool_down, light_low, light_high);
  return plan;
}

}  // namespace pulsewright
