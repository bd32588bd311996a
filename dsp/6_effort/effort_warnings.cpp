#include "effort_warnings.hpp"

#include <fmt/format.h>

namespace pulsewright {

namespace {

/// Ages in which the maximum of children was measured against the equations (Mahon et al. 2010, RQES 81:466).
constexpr double child_from_years = 7.0;
constexpr double child_to_years = 17.0;
constexpr double adult_years = 18.0;
/// Above this share of the session without a rate, times are much too short to be compared (ours).
constexpr double much_unmeasured = 0.20;

void warn_of_equation(const Person& person, const MaximumRate& maximum, Warnings& warnings) {
  if (maximum.source == MaximumSource::measured) return;
  const double age = person.age_years.value_or(0.0);
  std::string text = fmt::format(
      "The maximum of {:.0f} beats/min is an estimate, {}; age formulas miss an individual's maximum by 10 to "
      "12 beats/min (one SD), and everything computed from it moves along.",
      maximum.rate.value(), describe(maximum.source));
  if (age >= child_from_years && age < child_to_years + 1.0)
    text +=
        " In 7- to 17-year-olds the measured maximum was 201 +- 10; 208 - 0.7 age missed it by 8 +- 5 and 220 - age by "
        "10 +- 8 "
        "(Mahon et al. 2010, RQES 81:466).";
  else if (age < adult_years)
    text += fmt::format(" At {:g} years no measurement stands behind it.", age);
  warnings.push_back({"estimated_maximum", text});
  if (maximum.source == MaximumSource::gulati_2010 && person.sex == Sex::unstated)
    warnings.push_back({"equation_for_women", "206 - 0.88 age was found in adult women; the sex is not stated."});
}

void warn_of_peak(const Effort& result, Warnings& warnings) {
  if (!result.maximum || !result.peak_rate || !(*result.peak_rate > result.maximum->rate)) return;
  const double peak = result.peak_rate->value();
  const double maximum = result.maximum->rate.value();
  if (result.maximum->source == MaximumSource::measured)
    warnings.push_back(
        {"above_measured_maximum",
         fmt::format(
             "The peak of {:.0f} beats/min lies above the measured maximum of {:.0f}: a sensor fault, or a maximum "
             "that was not reached when it was measured. Look at the signal.",
             peak, maximum)});
  else
    warnings.push_back(
        {"above_age_maximum",
         fmt::format(
             "The peak of {:.0f} beats/min lies above the age maximum of {:.0f}: a sensor fault or real? Look at the "
             "signal; a formula's maximum is passed by many (10 to 12 beats/min is one SD).",
             peak, maximum)});
}

}  // namespace

void add_effort_warnings(Effort& result) {
  Warnings& warnings = result.warnings;
  if (result.maximum) warn_of_equation(result.person, *result.maximum, warnings);
  warn_of_peak(result, warnings);
  if (result.above_ceiling_us && *result.above_ceiling_us > 0)
    warnings.push_back(
        {"above_own_ceiling",
         fmt::format("{:.0f} s were above the own ceiling of {:g} beats/min set by a professional.",
                     static_cast<double>(*result.above_ceiling_us) / 1e6, result.person.own_ceiling->value())});
  if (result.maximum && !result.resting)
    warnings.push_back({"by_share_of_maximum",
                        "Without a resting rate, target and categories go by per cent of the maximum, which fits an "
                        "individual less well than the reserve."});
  if (result.duration_us > 0 &&
      static_cast<double>(result.unmeasured_us) > much_unmeasured * static_cast<double>(result.duration_us))
    warnings.push_back(
        {"much_unmeasured",
         fmt::format("{:.0f} of {:.0f} s have no measured rate and count as neither effort nor rest.",
                     static_cast<double>(result.unmeasured_us) / 1e6, static_cast<double>(result.duration_us) / 1e6)});
}

}  // namespace pulsewright
