/// Stage 5a: heart rate over windows.
#include "pulsewright/rate.hpp"

#include <cmath>
#include <string>

#include "bindings.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {
namespace {

/// Rates of any device: bpm[i] speaks of start_s + i step_s and window_s on; NaN where there is none.
RateSeries rates_of(const std::vector<double>& bpm, double step_s, double window_s, double start_s) {
  if (!(step_s > 0) || !(window_s > 0)) throw Error(ErrorCode::usage, "step_s and window_s: more than 0");
  if (!std::isfinite(start_s)) throw Error(ErrorCode::usage, "start_s: must be finite");
  RateSeries rates;
  rates.options.step = Seconds{step_s};
  rates.options.window = Seconds{window_s};
  rates.windows.reserve(bpm.size());
  for (std::size_t i = 0; i < bpm.size(); ++i) {
    RateWindow window;
    window.window.start = Seconds{start_s + static_cast<double>(i) * step_s};
    window.window.end = window.window.start + Seconds{window_s};
    if (std::isinf(bpm[i])) throw Error(ErrorCode::usage, "bpm: position " + std::to_string(i) + " is infinite");
    if (bpm[i] > 0) {
      window.rate = BeatsPerMinute{bpm[i]};
      window.method = RateMethod::device;
    }
    rates.windows.push_back(window);
  }
  if (!rates.windows.empty()) rates.duration = rates.windows.back().window.end;
  rates.provenance.input = "arrays";
  return rates;
}

}  // namespace

void bind_rate(py::module_& module) {
  py::class_<RateSeries>(module, "RateSeries", "Heart rate over windows, each with its 95 % interval and confidence.")
      .def(py::init(&rates_of), py::arg("bpm"), py::kw_only(), py::arg("step_s") = 1.0, py::arg("window_s") = 1.0,
           py::arg("start_s") = 0.0,
           "Rates that another device gave: one every step_s, each about window_s; NaN where there is none.")
      .def_property_readonly("window_s", [](const RateSeries& r) { return r.options.window.value(); })
      .def_property_readonly("step_s", [](const RateSeries& r) { return r.options.step.value(); })
      .def_property_readonly("duration_s", [](const RateSeries& r) { return r.duration.value(); })
      .def_property_readonly("warnings", &warnings_of<RateSeries>)
      .def(
          "to_pandas",
          [](const RateSeries& r) {
            py::dict columns;
            const auto& windows = r.windows;
            columns["start_s"] = column_of(windows, [](const RateWindow& w) { return w.window.start.value(); });
            columns["end_s"] = column_of(windows, [](const RateWindow& w) { return w.window.end.value(); });
            columns["bpm"] = column_of(windows, [](const RateWindow& w) { return nan_without(w.rate); });
            columns["low_bpm"] = column_of(windows, [](const RateWindow& w) { return nan_without(w.low); });
            columns["high_bpm"] = column_of(windows, [](const RateWindow& w) { return nan_without(w.high); });
            columns["confidence"] = column_of(windows, [](const RateWindow& w) {
              return w.confidence.value_or(std::numeric_limits<double>::quiet_NaN());
            });
            columns["method"] = words_of(windows, [](const RateWindow& w) { return to_string(w.method); });
            return table_of(columns);
          },
          "One row a window; NaN where the rate could not be measured.")
      .def("to_json", &rate_json)
      .def("__len__", [](const RateSeries& r) { return r.windows.size(); })
      .def("__repr__", [](const RateSeries& r) {
        return "<RateSeries of " + std::to_string(r.windows.size()) + " windows over " + format_clock(r.duration) + ">";
      });
  module.def(
      "read_rates",
      [](const std::filesystem::path& path, const std::string& column) { return read_rates(path, column); },
      py::arg("path"), py::kw_only(), py::arg("column") = "", py::call_guard<py::gil_scoped_release>(),
      "A table of rates: start_s and end_s, or a time, and beats/min. column: which, when several could be it.");
  module.def(
      "rate",
      [](const BeatTrain& beats, const Intervals& intervals, const std::optional<RateTrack>& track, double window_s,
         double step_s, double least_confidence) {
        if (!(least_confidence >= 0 && least_confidence <= 1))
          throw Error(ErrorCode::usage, "least_confidence: from 0 to 1");
        RateOptions options;
        options.window = Seconds{window_s};
        options.step = Seconds{step_s};
        options.least_confidence = least_confidence;
        return heart_rate(beats, intervals, track, options);
      },
      py::arg("beats"), py::arg("intervals"), py::arg("track") = py::none(), py::kw_only(), py::arg("window_s") = 8.0,
      py::arg("step_s") = 2.0, py::arg("least_confidence") = 0.5, py::call_guard<py::gil_scoped_release>(),
      "Heart rate over windows from beats, joined with the rate track of a pulse where there is one.\n\n"
      "intervals: of these beats. least_confidence: rates less sure than this are not given.");
}

}  // namespace pulsewright::python
