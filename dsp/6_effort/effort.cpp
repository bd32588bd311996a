#include "pulsewright/effort.hpp"

#include <fmt/format.h>

#include "effort_account.hpp"
#include "effort_warnings.hpp"

namespace pulsewright {

namespace {

/// A lowest minute outside is taken for work or for a sensor fault, not for rest (ours).
constexpr BeatsPerMinute least_resting{30.0};
constexpr BeatsPerMinute most_resting{100.0};

void check_person(const Person& person) {
  const auto positive = [&](const std::optional<BeatsPerMinute>& rate, const char* what) {
    if (rate && !(rate->value() > 0.0))
      throw Error{ErrorCode::usage, fmt::format("{} of {:g} beats/min{}; it must be above 0", what, rate->value(),
                                                person.code.empty() ? "" : " of " + person.code)};
  };
  positive(person.resting, "resting rate");
  positive(person.own_ceiling, "own ceiling");
}

std::optional<RestingRate> resting_of(const RateSeries& rates, const Person& person,
                                      const std::optional<MaximumRate>& maximum, Warnings& warnings) {
  if (person.resting) return RestingRate{*person.resting, RestingSource::given, std::nullopt};
  const std::optional<RestingRate> lowest = lowest_stable_rate(rates);
  if (!lowest) {
    warnings.push_back(
        {"no_resting_rate", "No resting rate was given and no full minute was measured to read one from."});
    return std::nullopt;
  }
  const bool plausible =
      least_resting <= lowest->rate && lowest->rate <= most_resting && (!maximum || lowest->rate < maximum->rate);
  if (!plausible) {
    warnings.push_back({"no_resting_rate",
                        fmt::format("No resting rate was given, and the lowest minute ({:.0f} beats/min) is no rest: "
                                    "{:g} to {:g} beats/min and below the maximum would be.",
                                    lowest->rate.value(), least_resting.value(), most_resting.value())});
    return std::nullopt;
  }
  // First of all, because everything else leans on it.
  warnings.insert(
      warnings.begin(),
      {"resting_from_session",
       fmt::format("No resting rate was given; the lowest minute ({:.0f} beats/min, {:.0f} to {:.0f} s) stands in. "
                   "In a workout that is too high, and the target with it: measure it at rest.",
                   lowest->rate.value(), lowest->where->start.value(), lowest->where->end.value())});
  return lowest;
}

void explain_absent(Effort& result, const std::string& no_target) {
  const auto reason = [&](bool absent, const char* measure, const std::string& why) {
    if (absent) result.reasons.push_back({measure, why});
  };
  const std::string no_rate = "No stretch of the session has a measured rate.";
  const std::string no_maximum =
      "Neither a measured maximum (--maximum) nor an age that an equation could use (--age) is known.";
  const std::string no_resting = "No resting rate is known.";
  reason(!result.mean_rate, "mean_hr_bpm", no_rate);
  reason(!result.peak_rate, "peak_hr_bpm", no_rate);
  reason(!result.maximum, "maximum_hr_bpm", no_maximum);
  reason(!result.resting, "resting_hr_bpm", no_resting);
  reason(!result.category_us, "category_s", no_maximum);
  reason(!result.target, "target", no_target);
  for (const char* measure : {"below_target_s", "in_target_s", "above_target_s"})
    reason(!result.target, measure, no_target);
  reason(!result.mean_reserve_percent, "mean_reserve_percent",
         !result.maximum   ? no_maximum
         : !result.resting ? no_resting
                           : no_rate);
}

}  // namespace

Effort effort(const RateSeries& rates, const Person& person, const EffortOptions& options) {
  check_person(person);
  Effort result;
  result.person = person;
  result.provenance = rates.provenance;
  result.warnings = rates.warnings;
  result.maximum = maximum_rate(person, options.equation);
  result.resting = resting_of(rates, person, result.maximum, result.warnings);

  std::string no_target =
      "Neither a measured maximum (--maximum) nor an age that an equation could use (--age) is known.";
  if (result.maximum) {
    result.target = target_zone(*result.maximum, result.resting, options.low_fraction, options.high_fraction);
    if (person.own_ceiling) {
      const BeatsPerMinute low = result.target->low;
      result.target = with_ceiling(*result.target, *person.own_ceiling);
      if (!result.target)
        no_target = fmt::format(
            "The own ceiling of {:g} beats/min lies below the band, which would begin at {:.0f} beats/min: the ceiling "
            "holds, and no target by formula applies.",
            person.own_ceiling->value(), low.value());
    }
  }

  const std::vector<EffortCell> cells = effort_cells(rates);
  account_rates(rates, cells, result);
  const std::vector<RateLine> lines = rate_lines(cells);
  if (result.maximum) account_categories(lines, result);
  account_target(lines, result);
  explain_absent(result, no_target);
  add_effort_warnings(result);
  return result;
}

}  // namespace pulsewright
