#include "pulsewright/live_standing.hpp"

namespace pulsewright {
namespace {

std::optional<TargetZone> target_of(const Person& person, const std::optional<MaximumRate>& maximum,
                                    const EffortOptions& options) {
  if (!maximum) return std::nullopt;
  std::optional<RestingRate> resting;
  if (person.resting) resting = RestingRate{*person.resting, RestingSource::given, std::nullopt};
  const TargetZone target = target_zone(*maximum, resting, options.low_fraction, options.high_fraction);
  return person.own_ceiling ? with_ceiling(target, *person.own_ceiling) : std::optional{target};
}

}  // namespace

const char* to_string(TargetState state) {
  switch (state) {
    case TargetState::unknown: return "unknown";
    case TargetState::below: return "below";
    case TargetState::in: return "in";
    case TargetState::above: return "above";
  }
  return "";
}

LiveStanding::LiveStanding(const Person& person, const EffortOptions& options)
    : person_(person),
      options_(options),
      maximum_(maximum_rate(person, options.equation)),
      target_(target_of(person_, maximum_, options_)) {}

bool LiveStanding::measured_resting(BeatsPerMinute resting) {
  if (!(resting > BeatsPerMinute{0}) || (maximum_ && resting >= maximum_->rate)) return false;
  person_.resting = resting;
  target_ = target_of(person_, maximum_, options_);
  return true;
}

TargetState LiveStanding::state_of(BeatsPerMinute rate) const {
  if (!target_) return TargetState::unknown;
  if (rate < target_->low) return TargetState::below;
  return rate > target_->high ? TargetState::above : TargetState::in;
}

bool LiveStanding::sure_of(const RateWindow& window) const {
  if (!window.rate || !window.low || !window.high) return false;
  return state_of(*window.low) == state_of(*window.rate) && state_of(*window.high) == state_of(*window.rate);
}

std::optional<double> LiveStanding::reserve_percent(BeatsPerMinute rate) const {
  if (!maximum_ || !person_.resting) return std::nullopt;
  return 100.0 * ((rate - *person_.resting) / (maximum_->rate - *person_.resting));
}

}  // namespace pulsewright
