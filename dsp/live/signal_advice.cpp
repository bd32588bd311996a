#include "signal_advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "pulsewright/condition.hpp"

namespace pulsewright {

const char* to_string(SignalAdvice advice) {
  switch (advice) {
    case SignalAdvice::good: return "good";
    case SignalAdvice::looking: return "looking";
    case SignalAdvice::nothing_comes: return "nothing_comes";
    case SignalAdvice::no_contact: return "no_contact";
    case SignalAdvice::too_strong: return "too_strong";
    case SignalAdvice::hold_still: return "hold_still";
  }
  return "";
}

const char* advice_text(SignalAdvice advice, ChannelKind kind) {
  const bool ecg = kind == ChannelKind::ecg;
  switch (advice) {
    case SignalAdvice::good: return "good";
    case SignalAdvice::looking: return "looking for the beat";
    case SignalAdvice::nothing_comes: return "nothing comes from the sensor";
    case SignalAdvice::no_contact: return ecg ? "no contact: check the electrodes" : "no finger";
    case SignalAdvice::too_strong: return ecg ? "too strong: check the electrodes" : "press lighter";
    case SignalAdvice::hold_still: return "hold still";
  }
  return "";
}

namespace live_stage {
namespace {

/// The newest seconds that are judged; one bad second in them does not count yet.
constexpr std::size_t judged_seconds = 3;
/// No wave of a heart stays within so few different values: a sensor without a finger shows steps
/// of its converter.
constexpr std::size_t fewest_values = 4;

/// Whether the newest seconds hold hardly any different values.
bool stands_still(std::span<const float> values) {
  std::array<float, fewest_values> seen{};
  std::size_t count = 0;
  for (const float v : values) {
    if (!std::isfinite(v)) continue;
    const auto end = seen.begin() + static_cast<std::ptrdiff_t>(count);
    if (std::find(seen.begin(), end, v) != end) continue;
    if (count == seen.size()) return false;
    seen[count++] = v;
  }
  return true;
}

}  // namespace

SignalAdvice judge_signal(std::span<const float> recent, ChannelKind kind, Hertz rate, bool measured) {
  const auto newest = static_cast<std::size_t>(samples_in(Seconds{static_cast<double>(judged_seconds)}, rate));
  const std::span<const float> last = recent.last(std::min(newest, recent.size()));
  const auto there = std::count_if(last.begin(), last.end(), [](float v) { return std::isfinite(v); });
  if (2 * static_cast<std::size_t>(there) < last.size() || last.empty()) return SignalAdvice::nothing_comes;
  if (stands_still(last)) return SignalAdvice::no_contact;
  if (2.0 * ConditionOptions{}.pulse_top.value() >= rate.value()) return SignalAdvice::looking;

  Channel channel;
  channel.kind = kind;
  channel.rate = rate;
  channel.samples.assign(recent.begin(), recent.end());
  ConditionOptions options;
  options.mains = MainsChoice::none;
  const std::vector<SecondQuality> quality = condition(channel, options).quality;
  std::array<std::size_t, 5> faults{};
  const std::size_t from = quality.size() - std::min(judged_seconds, quality.size());
  for (std::size_t k = from; k < quality.size(); ++k) ++faults[static_cast<std::size_t>(quality[k].fault)];
  const auto most = [&](QualityFault fault) {
    return 2 * faults[static_cast<std::size_t>(fault)] > quality.size() - from;
  };
  if (most(QualityFault::flat)) return SignalAdvice::no_contact;
  if (most(QualityFault::clipped)) return SignalAdvice::too_strong;
  if (measured) return SignalAdvice::good;
  if (most(QualityFault::gap)) return SignalAdvice::nothing_comes;
  return most(QualityFault::noise) ? SignalAdvice::hold_still : SignalAdvice::looking;
}

}  // namespace live_stage
}  // namespace pulsewright
