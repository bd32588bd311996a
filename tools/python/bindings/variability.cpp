/// Stage 5b: variability of the cleaned intervals.
#include "pulsewright/variability.hpp"

#include "bindings.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {

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
      .def_property_readonly("reasons",
                             [](const Variability& v) {
                               py::dict reasons;
                               for (const Reason& reason : v.reasons) reasons[reason.measure.c_str()] = reason.reason;
                               return reasons;
                             })
      .def_property_readonly("warnings", &warnings_of<Variability>)
      .def("to_json", &variability_json)
      .def(
          "to_dict", [](const Variability& v) { return parsed(variability_json(v)); },
          "Every measure under its key of the JSON document, rounded as there.");
  module.def(
      "variability", [](const Intervals& intervals) { return variability(intervals); }, py::arg("intervals"),
      py::call_guard<py::gil_scoped_release>(), "Measures of variability over the corrected intervals.");
}

}  // namespace pulsewright::python
