/// A heart rate of this moment, against what is known of the person.
#pragma once

#include <optional>

#include "pulsewright/effort.hpp"
#include "pulsewright/person.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/target.hpp"

namespace pulsewright {

/// Where a rate lies against a band.
enum class TargetState { unknown, below, in, above };

/// `unknown`, `below`, `in`, `above`.
[[nodiscard]] const char* to_string(TargetState state);

/// What a live run knows of a person.
class LiveStanding {
 public:
  /// Throws what `maximum_rate` and `target_zone` throw.
  explicit LiveStanding(const Person& person, const EffortOptions& options = {});

  [[nodiscard]] const Person& person() const { return person_; }
  /// Takes a resting rate measured meanwhile; the target moves with it. One that is not below the
  /// maximum is left out, and that is told.
  bool measured_resting(BeatsPerMinute resting);
  /// By share of the reserve where a resting rate is known, else of the maximum; nothing without a
  /// maximum, or where an own ceiling leaves no band.
  [[nodiscard]] const std::optional<TargetZone>& target() const { return target_; }
  [[nodiscard]] TargetState state_of(BeatsPerMinute rate) const;
  /// Whether the 95 % interval lies wholly on the side that the rate lies on.
  [[nodiscard]] bool sure_of(const RateWindow& window) const;
  /// Per cent of the heart-rate reserve; nothing where resting rate or maximum are unknown. Below 0
  /// and above 100 are possible.
  [[nodiscard]] std::optional<double> reserve_percent(BeatsPerMinute rate) const;

 private:
  Person person_;
  EffortOptions options_;
  std::optional<MaximumRate> maximum_;
  std::optional<TargetZone> target_;
};

}  // namespace pulsewright
