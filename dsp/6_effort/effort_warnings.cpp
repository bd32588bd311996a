#include "effort_warnings.hpp"

#include <fmt/format.h>

#include <utility>

namespace pulsewright {

namespace {

/// Ages that studies of the maximum reached: children from 7 years on (Mahon et al. 2010, RQES 81:466), adults up to 89 (Nes et al. 2013, Scand J
/// Med Sci Sports 23:697; from memory).
constexpr double youngest_studied_years = 7.0;
constexpr double oldest_studied_years = 89.0;
constexpr double adult_years = 18.0;
/// Above this share of the session without a rate, times are much too short to be compared (ours).
constexpr double much_unmeasured = 0.20;

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

Warnings maximum_warnings(const Person& person, const MaximumRate& maximum) {
  Warnings warnings;
  if (maximum.source == MaximumSource::measured) return warnings;
  if (person.exercise != Exercise::legs)
    warnings.push_back(
        {"leg_based_maximum",
         fmt::format(
             "Age formulas were found in people who ran and cycled; {} reaches a lower maximum, so that this one "
             "and its target are too high. Take a maximum measured in the same exercise.",
             person.exercise == Exercise::arms ? "exercise with the arms" : "wheelchair exercise")});
  warnings.push_back({"estimated_maximum",
                      fmt::format("The maximum of {:.0f} beats/min is an estimate by age; a person's own lies 10 to 12 "
                                  "beats/min (one SD) off, and so does all that follows from it.",
                                  maximum.rate.value())});
  const double age = person.age_years.value_or(0.0);
  if (age < youngest_studied_years || age > oldest_studied_years)
    warnings.push_back(
        {"age_outside_formula",
         fmt::format("No measurement stands behind an age formula at {:g} years; studies took in {:g} to {:g}.", age,
                     youngest_studied_years, oldest_studied_years)});
  else if (age < adult_years &&
           (maximum.source == MaximumSource::gellish_2007 || maximum.source == MaximumSource::nes_2013))
    warnings.push_back(
        {"age_outside_formula",
         fmt::format("The equation was found in adults; at {:g} years 208 - 0.7 age has been tried.", age)});
  if (maximum.source == MaximumSource::gulati_2010 && person.sex == Sex::unstated)
    warnings.push_back({"equation_for_women", "206 - 0.88 age was found in adult women; the sex is not stated."});
  return warnings;
}

void add_effort_warnings(Effort& result) {
  Warnings& warnings = result.warnings;
  if (result.maximum)
    for (Warning& warning : maximum_warnings(result.person, *result.maximum)) warnings.push_back(std::move(warning));
  warn_of_peak(result, warnings);
  if (result.above_ceiling_us && *result.above_ceiling_us > 0)
    warnings.push_back(
        {"above_own_ceiling",
         fmt::format("{:.0f} s were above the own ceiling of {:g} beats/min set by a professional.",
                     static_cast<double>(*result.above_ceiling_us) / 1e6, result.person.own_ceiling->value())});
  if (result.maximum && !result.resting)
    warnings.push_back(
        {"by_share_of_maximum",
         "Without a resting rate, target and categories go by share of the maximum. That is another scale than "
         "the reserve: do not compare the two."});
  if (result.duration_us > 0 &&
      static_cast<double>(result.unmeasured_us) > much_unmeasured * static_cast<double>(result.duration_us))
    warnings.push_back(
        {"much_unmeasured",
         fmt::format("{:.0f} of {:.0f} s have no measured rate and count as neither effort nor rest.",
                     static_cast<double>(result.unmeasured_us) / 1e6, static_cast<double>(result.duration_us) / 1e6)});
}

}  // namespace pulsewright
