#include "variability_measures.hpp"

namespace pulsewright {
namespace {

std::optional<double> as_number(const std::optional<int>& count) {
  return count ? std::optional<double>(*count) : std::nullopt;
}

}  // namespace

std::vector<VariabilityMeasure> variability_measures(const Variability& v) {
  return {{"mean_nn_ms", v.mean_nn_ms, 3, "mean NN", "ms", "mean normal-to-normal interval"},
          {"sdnn_ms", v.sdnn_ms, 3, "SDNN", "ms", "their standard deviation (n - 1): slow and fast changes together"},
          {"rmssd_ms", v.rmssd_ms, 3, "RMSSD", "ms", "root mean square of neighbours' differences: fast changes"},
          {"sdsd_ms", v.sdsd_ms, 3, "SDSD", "ms", "standard deviation of those differences (n - 1)"},
          {"nn50_count", as_number(v.nn50_count), 0, "NN50", "", "differences of more than 50 ms"},
          {"pnn50_percent", v.pnn50_percent, 2, "pNN50", "%", "their share of all differences"},
          {"mean_hr_bpm", v.mean_hr_bpm, 2, "mean heart rate", "beats/min", "60000 / mean NN"},
          {"min_nn_ms", v.min_nn_ms, 3, "shortest NN", "ms", ""},
          {"max_nn_ms", v.max_nn_ms, 3, "longest NN", "ms", ""},
          {"flagged_percent", v.flagged_percent, 2, "flagged", "%", "intervals replaced or left out"}};
}

}  // namespace pulsewright
