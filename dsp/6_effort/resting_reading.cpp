#include <fmt/format.h>

#include <array>
#include <cmath>

#include "pulsewright/resting.hpp"

namespace pulsewright {

namespace {

/// Common practice for adolescents and adults: up to 50, 51 to 71, 72 to 84, 85 and over.
constexpr double most_highly_trained = 50, most_trained = 71, most_average = 84;

/// Population centiles 10, 50 and 90 (Fleming et al. 2011, Lancet 377:1011; from memory).
constexpr std::array centiles_by_age{
    RestingCentiles{12, 15, BeatsPerMinute{62}, BeatsPerMinute{78}, BeatsPerMinute{96}},
    RestingCentiles{15, 18, BeatsPerMinute{58}, BeatsPerMinute{73}, BeatsPerMinute{92}}};

const char* words_of(RestingReading reading) {
  switch (reading) {
    case RestingReading::highly_trained: return "found in highly trained people (up to 50)";
    case RestingReading::trained: return "found in trained people (51 to 71)";
    case RestingReading::average: return "average (72 to 84)";
    case RestingReading::high: break;
  }
  return "high if it was truly taken at rest (85 and over); excitement, a warm room, a cold or a bad night raise it, "
         "so "
         "measure again";
}

const char* words_of(CentilePlace place) {
  switch (place) {
    case CentilePlace::below_10th: return "lower than in nine of ten people";
    case CentilePlace::from_10th_to_50th: return "in the lower, quite usual half";
    case CentilePlace::from_50th_to_90th: return "in the upper, quite usual half";
    case CentilePlace::above_90th: break;
  }
  return "higher than in nine of ten people";
}

}  // namespace

RestingComparison compare_resting(BeatsPerMinute resting, std::optional<double> age_years) {
  RestingComparison result;
  const double bpm = std::floor(resting.value() + 0.5);
  result.common_practice = bpm <= most_highly_trained ? RestingReading::highly_trained
                           : bpm <= most_trained      ? RestingReading::trained
                           : bpm <= most_average      ? RestingReading::average
                                                      : RestingReading::high;
  for (const RestingCentiles& row : centiles_by_age) {
    if (!age_years || *age_years < row.from_years || *age_years >= row.to_years) continue;
    result.centiles = row;
    result.place = bpm < row.tenth.value()        ? CentilePlace::below_10th
                   : bpm < row.middle.value()     ? CentilePlace::from_10th_to_50th
                   : bpm <= row.ninetieth.value() ? CentilePlace::from_50th_to_90th
                                                  : CentilePlace::above_90th;
  }
  return result;
}

std::string describe(const RestingComparison& comparison) {
  std::string words =
      fmt::format("by common practice for adolescents and adults {}", words_of(comparison.common_practice));
  if (comparison.centiles)
    words += fmt::format(
        "; among {:g}- to {:g}-year-olds, whose 10th, 50th and 90th centiles are {:g}, {:g} and {:g} beats/min "
        "(Fleming "
        "et al. 2011, Lancet 377:1011), {}",
        comparison.centiles->from_years, comparison.centiles->to_years, comparison.centiles->tenth.value(),
        comparison.centiles->middle.value(), comparison.centiles->ninetieth.value(), words_of(*comparison.place));
  else
    words += "; no centiles are at hand for this age (only 12 to 18 years), so take it as a rough guide";
  return words;
}

}  // namespace pulsewright
