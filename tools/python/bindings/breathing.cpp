/// Stage 5c: breathing as the beats show it.
#include "pulsewright/breathing.hpp"

#include "bindings.hpp"
#include "pulsewright/breathing_report.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright::python {
namespace {

double per_minute(const std::optional<Hertz>& rate) {
  return rate ? 60 * rate->value() : std::numeric_limits<double>::quiet_NaN();
}

py::object windows_table(const BreathingSeries& series) {
  const auto& windows = series.windows;
  py::dict columns;
  columns["start_s"] = column_of(windows, [](const BreathingWindow& w) { return w.window.start.value(); });
  columns["end_s"] = column_of(windows, [](const BreathingWindow& w) { return w.window.end.value(); });
  columns["breaths_per_min"] = column_of(windows, [](const BreathingWindow& w) { return per_minute(w.rate); });
  columns["low_per_min"] = column_of(windows, [](const BreathingWindow& w) { return per_minute(w.low); });
  columns["high_per_min"] = column_of(windows, [](const BreathingWindow& w) { return per_minute(w.high); });
  return table_of(columns);
}

}  // namespace

void bind_breathing(py::module_& module) {
  py::class_<BreathingSeries>(module, "BreathingSeries", "Breathing rate over windows, each with its 95 % interval.")
      .def_property_readonly("warnings", &warnings_of<BreathingSeries>)
      .def("to_pandas", &windows_table, "One row a window; NaN where breathing could not be told.")
      .def("to_json", &breathing_json)
      .def("__len__", [](const BreathingSeries& s) { return s.windows.size(); });
  module.def(
      "breathing_rate",
      [](const BeatTrain& beats, const std::vector<const Channel*>& channels, double window_s, double step_s) {
        if (!(window_s > 0) || !(step_s > 0)) throw Error(ErrorCode::usage, "window_s and step_s: more than 0");
        BreathingOptions options;
        options.window = Seconds{window_s};
        options.step = Seconds{step_s};
        return breathing_rate(beats, channels, options);
      },
      py::arg("beats"), py::arg("channels") = std::vector<const Channel*>{}, py::kw_only(), py::arg("window_s") = 32.0,
      py::arg("step_s") = 4.0, py::call_guard<py::gil_scoped_release>(),
      "Breathing from beats and the channels that they were found in; without channels from the intervals alone.");
}

}  // namespace pulsewright::python
