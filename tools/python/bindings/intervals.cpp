/// Stage 4: intervals with their verdicts.
#include "bindings.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {
namespace {

Correction correction_of(const std::string& word) {
  for (const Correction correction :
       {Correction::repair, Correction::insert_and_delete, Correction::interpolate, Correction::leave_out})
    if (word == to_string(correction)) return correction;
  throw Error(ErrorCode::usage,
              "correction: '" + word + "' is none of repair, insert_and_delete, interpolate, leave_out");
}

double nan_without(const std::optional<double>& value) {
  return value.value_or(std::numeric_limits<double>::quiet_NaN());
}

}  // namespace

void bind_intervals(py::module_& module) {
  py::class_<Intervals>(module, "Intervals",
                        "The time between neighbouring beats: original, verdict and what stands in for it.")
      .def_property_readonly(
          "corrected_ms",
          [](const Intervals& i) { return column_of(normal_series(i), [](const NormalInterval& n) { return n.ms; }); },
          "The corrected series in ms")
      .def_property_readonly(
          "corrected_times",
          [](const Intervals& i) {
            return column_of(normal_series(i), [](const NormalInterval& n) { return n.end.value(); });
          },
          "Where each interval of the corrected series ends, in seconds")
      .def_property_readonly("flagged_percent", &Intervals::flagged_percent)
      .def_property_readonly("duration_s", [](const Intervals& i) { return i.duration.value(); })
      .def_property_readonly("warnings", &warnings_of<Intervals>)
      .def(
          "to_pandas",
          [](const Intervals& i) {
            py::dict columns;
            const auto& rows = i.intervals;
            columns["start_s"] = column_of(rows, [](const Interval& r) { return r.start.value(); });
            columns["end_s"] = column_of(rows, [](const Interval& r) { return r.end.value(); });
            columns["original_ms"] = column_of(rows, [](const Interval& r) { return r.original_ms; });
            columns["verdict"] = words_of(rows, [](const Interval& r) { return to_string(r.verdict); });
            columns["corrected_ms"] = column_of(rows, [](const Interval& r) { return nan_without(r.corrected_ms); });
            return table_of(columns);
          },
          "One row a pair of neighbouring beats.")
      .def("to_json", &intervals_json)
      .def("__len__", [](const Intervals& i) { return i.intervals.size(); })
      .def("__repr__", [](const Intervals& i) {
        return "<" + std::to_string(i.intervals.size()) + " Intervals, " + format_number(i.flagged_percent(), 1) +
               " % flagged>";
      });
  module.def(
      "clean",
      [](const BeatTrain& beats, const std::string& correction) {
        CleanOptions options;
        options.correction = correction_of(correction);
        return clean(beats, options);
      },
      py::arg("beats"), py::kw_only(), py::arg("correction") = "repair", py::call_guard<py::gil_scoped_release>(),
      "Judges each interval between accepted beats; nothing is hidden: originals stay beside what replaces them.");
  module.def(
      "read_intervals",
      [](const std::filesystem::path& path, const std::string& unit) {
        if (unit != "ms" && unit != "s") throw Error(ErrorCode::usage, "unit: '" + unit + "' is neither ms nor s");
        return read_intervals(path, unit == "s" ? IntervalUnit::seconds : IntervalUnit::milliseconds);
      },
      py::arg("path"), py::kw_only(), py::arg("unit") = "ms", py::call_guard<py::gil_scoped_release>(),
      "Reads a bare list of intervals as beats, the first at 0 s.");
}

}  // namespace pulsewright::python
