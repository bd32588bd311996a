#include "variability_measures.hpp"

namespace pulsewright {
namespace {

using enum MeasureGroup;

std::optional<double> as_number(const std::optional<int>& count) {
  return count ? std::optional<double>(*count) : std::nullopt;
}

void append(std::vector<VariabilityMeasure>& all, std::vector<VariabilityMeasure> more) {
  all.insert(all.end(), more.begin(), more.end());
}

std::vector<VariabilityMeasure> time_measures(const Variability& v) {
  return {{"nn20_count", as_number(v.nn20_count), 0, "NN20", "", "differences of more than 20 ms", time},
          {"pnn20_percent", v.pnn20_percent, 2, "pNN20", "%", "their share of all differences", time},
          {"cv_percent", v.cv_percent, 2, "CV", "%", "SDNN over mean NN", time},
          {"sd_hr_bpm", v.sd_hr_bpm, 2, "SD of heart rate", "beats/min", "of the rates of single intervals", time},
          {"lowest_hr_bpm", v.lowest_hr_bpm, 2, "lowest heart rate", "beats/min", "over 10 s", time},
          {"highest_hr_bpm", v.highest_hr_bpm, 2, "highest heart rate", "beats/min", "over 10 s", time},
          {"sdann_ms", v.sdann_ms, 3, "SDANN", "ms", "standard deviation of the means of 5 min", time},
          {"sdnn_index_ms", v.sdnn_index_ms, 3, "SDNN index", "ms", "mean of the standard deviations of 5 min", time},
          {"triangular_index", v.triangular_index, 3, "triangular index", "",
           "intervals over those in the fullest 1/128 s", time},
          {"tinn_ms", v.tinn_ms, 3, "TINN", "ms", "base of the triangle fitted to their histogram", time}};
}

std::vector<VariabilityMeasure> complexity_measures(const Variability& v) {
  return {{"sd1_ms", v.sd1_ms, 3, "SD1", "ms", "of the cloud of neighbours, across the diagonal", complexity},
          {"sd2_ms", v.sd2_ms, 3, "SD2", "ms", "along it", complexity},
          {"sd1_sd2_ratio", v.sd1_sd2_ratio, 4, "SD1/SD2", "", "", complexity},
          {"ellipse_area_ms2", v.ellipse_area_ms2, 3, "ellipse area", "ms2", "pi SD1 SD2", complexity},
          {"lengthening_percent", v.lengthening_percent, 2, "lengthening share", "%",
           "of squared differences: 50 is symmetric", complexity},
          {"sample_entropy", v.sample_entropy, 4, "sample entropy", "", "runs of 2, within 0.2 SD", complexity},
          {"approximate_entropy", v.approximate_entropy, 4, "approximate entropy", "", "the same", complexity},
          {"alpha1", v.alpha1, 4, "DFA alpha1", "", "scaling over 4 to 16 beats", complexity},
          {"alpha2", v.alpha2, 4, "DFA alpha2", "", "scaling over 16 to 64 beats", complexity}};
}

}  // namespace

std::vector<VariabilityMeasure> principal_measures(const Variability& v) {
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

std::vector<VariabilityMeasure> power_measures(const BandPowers& p) {
  return {
      {"ulf_power_ms2", p.ulf_power_ms2, 3, "ULF power", "ms2", "ultra low frequencies", frequency},
      {"vlf_power_ms2", p.vlf_power_ms2, 3, "VLF power", "ms2", "very low frequencies", frequency},
      {"lf_power_ms2", p.lf_power_ms2, 3, "LF power", "ms2", "low frequencies", frequency},
      {"hf_power_ms2", p.hf_power_ms2, 3, "HF power", "ms2", "high frequencies: breathing", frequency},
      {"total_power_ms2", p.total_power_ms2, 3, "total power", "ms2", "from 0 to 0.40 Hz or the end of HF", frequency},
      {"lf_hf_ratio", p.lf_hf_ratio, 4, "LF/HF", "", "", frequency},
      {"lf_nu_percent", p.lf_nu_percent, 2, "LF n.u.", "%", "share of LF + HF", frequency},
      {"hf_nu_percent", p.hf_nu_percent, 2, "HF n.u.", "%", "share of LF + HF", frequency},
      {"vlf_peak_hz", p.vlf_peak_hz, 5, "VLF peak", "Hz", "", frequency},
      {"lf_peak_hz", p.lf_peak_hz, 5, "LF peak", "Hz", "", frequency},
      {"hf_peak_hz", p.hf_peak_hz, 5, "HF peak", "Hz", "", frequency},
      {"variance_ms2", p.variance_ms2, 3, "variance", "ms2", "of the series that was transformed", frequency},
      {"parseval_percent", p.parseval_percent, 2, "Parseval", "%", "all power over that variance", frequency}};
}

std::vector<VariabilityMeasure> variability_measures(const Variability& v) {
  std::vector<VariabilityMeasure> all = principal_measures(v);
  append(all, time_measures(v));
  append(all, power_measures(v.power));
  append(all, complexity_measures(v));
  return all;
}

std::string measure_label(std::string_view key) {
  for (const VariabilityMeasure& measure : variability_measures({}))
    if (key == measure.key) return std::string(measure.label) + (*measure.unit == '\0' ? "" : ", ") + measure.unit;
  return std::string(key);
}

}  // namespace pulsewright
