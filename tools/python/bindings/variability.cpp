/// Stage 5b: variability of the cleaned intervals.
#include "pulsewright/variability.hpp"

#include "bindings.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {
namespace {

SpectrumMethod method_of(const std::string& word) {
  for (const SpectrumMethod method :
       {SpectrumMethod::welch, SpectrumMethod::burg, SpectrumMethod::covariance, SpectrumMethod::lomb_scargle})
    if (word == to_string(method)) return method;
  throw Error(ErrorCode::usage, "spectrum: '" + word + "' is none of welch, burg, covariance, lomb_scargle");
}

VariabilityOptions options_of(const std::string& spectrum, const py::object& breathing,
                              std::optional<double> trend_lambda) {
  VariabilityOptions options;
  options.spectrum.principal = method_of(spectrum);
  if (!breathing.is_none()) {
    options.spectrum.high_band = HighBand::round_breathing;
    constexpr const char* rule = "breathing: 'auto', or breaths per second, above 0.05 and up to 2";
    if (py::isinstance<py::str>(breathing)) {
      if (breathing.cast<std::string>() != "auto") throw Error(ErrorCode::usage, rule);
    } else {
      if (PyNumber_Check(breathing.ptr()) != 1 || py::isinstance<py::array>(breathing))
        throw Error(ErrorCode::usage, rule);
      const double hz = py::float_(breathing);
      if (!(hz > 0.05 && hz <= 2)) throw Error(ErrorCode::usage, rule);
      options.spectrum.breathing = Hertz{hz};
    }
  }
  options.spectrum.trend_lambda = trend_lambda;
  return options;
}

}  // namespace

void bind_variability(py::module_& module) {
  py::class_<Variability>(module, "Variability",
                          "Measures of variability; None where one cannot be had, with why under reasons.")
      .def_readonly("nn_count", &Variability::nn_count)
      .def_readonly("difference_count", &Variability::difference_count)
      .def_readonly("mean_nn_ms", &Variability::mean_nn_ms)
      .def_readonly("sdnn_ms", &Variability::sdnn_ms)
      .def_readonly("rmssd_ms", &Variability::rmssd_ms)
      .def_readonly("sdsd_ms", &Variability::sdsd_ms)
      .def_readonly("nn50_count", &Variability::nn50_count)
      .def_readonly("pnn50_percent", &Variability::pnn50_percent)
      .def_readonly("mean_hr_bpm", &Variability::mean_hr_bpm)
      .def_readonly("min_nn_ms", &Variability::min_nn_ms)
      .def_readonly("max_nn_ms", &Variability::max_nn_ms)
      .def_readonly("flagged_percent", &Variability::flagged_percent)
      .def_readonly("nn20_count", &Variability::nn20_count)
      .def_readonly("pnn20_percent", &Variability::pnn20_percent)
      .def_readonly("cv_percent", &Variability::cv_percent)
      .def_readonly("sd_hr_bpm", &Variability::sd_hr_bpm)
      .def_readonly("lowest_hr_bpm", &Variability::lowest_hr_bpm)
      .def_readonly("highest_hr_bpm", &Variability::highest_hr_bpm)
      .def_readonly("sdann_ms", &Variability::sdann_ms)
      .def_readonly("sdnn_index_ms", &Variability::sdnn_index_ms)
      .def_readonly("triangular_index", &Variability::triangular_index)
      .def_readonly("tinn_ms", &Variability::tinn_ms)
      .def_property_readonly("ulf_power_ms2", [](const Variability& v) { return v.power.ulf_power_ms2; })
      .def_property_readonly("vlf_power_ms2", [](const Variability& v) { return v.power.vlf_power_ms2; })
      .def_property_readonly("lf_power_ms2", [](const Variability& v) { return v.power.lf_power_ms2; })
      .def_property_readonly("hf_power_ms2", [](const Variability& v) { return v.power.hf_power_ms2; })
      .def_property_readonly("total_power_ms2", [](const Variability& v) { return v.power.total_power_ms2; })
      .def_property_readonly("lf_hf_ratio", [](const Variability& v) { return v.power.lf_hf_ratio; })
      .def_property_readonly("lf_nu_percent", [](const Variability& v) { return v.power.lf_nu_percent; })
      .def_property_readonly("hf_nu_percent", [](const Variability& v) { return v.power.hf_nu_percent; })
      .def_readonly("sd1_ms", &Variability::sd1_ms)
      .def_readonly("sd2_ms", &Variability::sd2_ms)
      .def_readonly("sd1_sd2_ratio", &Variability::sd1_sd2_ratio)
      .def_readonly("ellipse_area_ms2", &Variability::ellipse_area_ms2)
      .def_readonly("sample_entropy", &Variability::sample_entropy)
      .def_readonly("approximate_entropy", &Variability::approximate_entropy)
      .def_readonly("multiscale_entropy", &Variability::multiscale_entropy)
      .def_readonly("alpha1", &Variability::alpha1)
      .def_readonly("alpha2", &Variability::alpha2)
      .def_property_readonly("reasons", &reasons_of<Variability>)
      .def_property_readonly("warnings", &warnings_of<Variability>)
      .def("to_json", &variability_json)
      .def(
          "to_dict", [](const Variability& v) { return parsed(variability_json(v)); },
          "Every measure under its key of the JSON document, rounded as there.");
  module.def(
      "variability",
      [](const Intervals& intervals, const std::string& spectrum, const py::object& breathing,
         std::optional<double> trend_lambda) {
        const VariabilityOptions options = options_of(spectrum, breathing, trend_lambda);
        const py::gil_scoped_release release;
        return variability(intervals, options);
      },
      py::arg("intervals"), py::kw_only(), py::arg("spectrum") = "welch", py::arg("breathing") = py::none(),
      py::arg("trend_lambda") = py::none(),
      "Measures of variability over the corrected intervals. spectrum: whose powers stand for the record: welch, "
      "burg, covariance, lomb_scargle. breathing: 'auto' or breaths per second, which the HF band then follows. "
      "trend_lambda: remove the smooth trend of Tarvainen et al. 2002 first.");
  module.def(
      "sliding_variability",
      [](const Intervals& intervals, double window_s, double step_s, const std::string& spectrum,
         const py::object& breathing, std::optional<double> trend_lambda) {
        if (!(window_s > 0) || !(step_s > 0)) throw Error(ErrorCode::usage, "window_s and step_s: more than 0");
        const VariabilityOptions options = options_of(spectrum, breathing, trend_lambda);
        const py::gil_scoped_release release;
        const auto windows = sliding_variability(intervals, {Seconds{window_s}, Seconds{step_s}}, options);
        std::vector<std::pair<std::pair<double, double>, Variability>> found;
        found.reserve(windows.size());
        for (const VariabilityWindow& w : windows)
          found.push_back({{w.span.start.value(), w.span.end.value()}, w.result});
        return found;
      },
      py::arg("intervals"), py::kw_only(), py::arg("window_s") = 300.0, py::arg("step_s") = 60.0,
      py::arg("spectrum") = "welch", py::arg("breathing") = py::none(), py::arg("trend_lambda") = py::none(),
      "The measures of every full window: pairs of (start, end) in seconds and a Variability.");
}

}  // namespace pulsewright::python
