/// Stage 7: two trains against each other.
#include "pulsewright/agreement.hpp"

#include "bindings.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {

void bind_agreement(py::module_& module) {
  py::class_<BeatAgreement>(module, "BeatAgreement", "Counts and timing errors of one comparison of beats.")
      .def_readonly("true_positives", &BeatAgreement::true_positives)
      .def_readonly("false_negatives", &BeatAgreement::false_negatives)
      .def_readonly("false_positives", &BeatAgreement::false_positives)
      .def_property_readonly("sensitivity_percent", &BeatAgreement::sensitivity_percent)
      .def_property_readonly("positive_predictivity_percent", &BeatAgreement::positive_predictivity_percent)
      .def_property_readonly("f1_percent", &BeatAgreement::f1_percent)
      .def_property_readonly("error_rate_percent", &BeatAgreement::error_rate_percent, "(FN + FP) / reference beats")
      .def_property_readonly("bias_ms", &BeatAgreement::bias_ms, "Mean of test minus reference")
      .def_property_readonly("sd_ms", &BeatAgreement::sd_ms)
      .def_property_readonly(
          "error_ms", [](py::object self) { return view_of(self.cast<const BeatAgreement&>().error_ms, self); },
          "Test minus reference of each matched pair")
      .def_property_readonly(
          "missed_s", [](const BeatAgreement& a) { return column_of(a.missed, [](Seconds t) { return t.value(); }); })
      .def_property_readonly(
          "extra_s", [](const BeatAgreement& a) { return column_of(a.extra, [](Seconds t) { return t.value(); }); })
      .def("__repr__", [](const BeatAgreement& a) {
        return "<BeatAgreement: " + std::to_string(a.true_positives) + " found, " + std::to_string(a.false_negatives) +
               " missed, " + std::to_string(a.false_positives) + " extra>";
      });
  module.def(
      "match_beats",
      [](const BeatTrain& reference, const BeatTrain& test, double tolerance_s, double skip_s,
         const std::vector<std::pair<double, double>>& exclude) {
        MatchOptions options;
        options.tolerance = Seconds{tolerance_s};
        options.skip = Seconds{skip_s};
        for (const auto& [start, end] : exclude) options.exclude.push_back({Seconds{start}, Seconds{end}});
        return match_beats(reference, test, options);
      },
      py::arg("reference"), py::arg("test"), py::kw_only(), py::arg("tolerance_s") = 0.15, py::arg("skip_s") = 0.0,
      py::arg("exclude") = std::vector<std::pair<double, double>>{}, py::call_guard<py::gil_scoped_release>(),
      "Matches beats one to one, closest first, inside the tolerance; exclude: (start, end) spans that are not "
      "scored.");
  module.def(
      "pool_beats",
      [](const std::vector<BeatAgreement>& records, const std::string& name) { return pool(records, name); },
      py::arg("records"), py::arg("name") = "gross", "Pools records: counts and errors added up.");
}

}  // namespace pulsewright::python
