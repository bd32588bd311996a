/// Stage 7: a linear model with people as a random effect, for values that come several a person.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/estimate.hpp"

namespace pulsewright {

/// A fixed effect of a mixed model: the value of the first level, or how far another is from it.
struct FixedEffect {
  std::string name;
  Estimate value;          ///< interval from `over_people`, Student's t on `MixedModel::degrees`
  double error = 0;        ///< standard error by the model, as if values of a person were independent
  double over_people = 0;  ///< standard error from leaving out one person at a time; 0 for fewer than three
};

/// What one person does to the model.
struct Influence {
  std::size_t person = 0;
  std::vector<double> change;  ///< of each effect, when the person is left out
};

/// Restricted maximum likelihood of y = X b + u(person) + e, u and e normal (Patterson & Thompson 1971,
/// Biometrika 58:545; Laird & Ware 1982, Biometrics 38:963).
struct MixedModel {
  std::vector<FixedEffect> effects;
  double between_variance = 0, within_variance = 0;
  double log_likelihood = 0;  ///< restricted, all constants included
  double degrees = 0;         ///< people - effects that are the same for all of a person's values
  std::size_t people = 0, values = 0;
  std::vector<Influence> influence;  ///< in the order of the people's numbers
};

/// A column of the model beside its intercept, one number a value.
struct ModelColumn {
  std::string name;
  std::vector<double> values;
};

/// Fits the model. `people` says whose each value is; `columns` have as many numbers as there are
/// values. Windows of a person depend on each other, which the model does not know: `error` is too
/// small for effects that vary within people, and intervals come from leaving out people (the
/// jackknife: Efron & Stein 1981, Ann Stat 9:586), at the variances of the whole. Nothing for fewer
/// than two people, for no more values than columns and people, or where columns depend on each other.
[[nodiscard]] std::optional<MixedModel> mixed_model(std::span<const double> values, std::span<const std::size_t> people,
                                                    std::span<const ModelColumn> columns = {});

}  // namespace pulsewright
