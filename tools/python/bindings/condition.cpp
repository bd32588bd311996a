/// Stage 2: filters and conditioned signals.
#include "pulsewright/condition.hpp"

#include <algorithm>
#include <cmath>

#include "bindings.hpp"
#include "pulsewright/report.hpp"
#include "samples.hpp"

namespace pulsewright::python {
namespace {

std::span<const float> span_of(const Samples& samples) {
  return {samples.data(), static_cast<std::size_t>(samples.size())};
}

const char* word_of(QualityFault fault) {
  switch (fault) {
    case QualityFault::none: return "none";
    case QualityFault::gap: return "gap";
    case QualityFault::flat: return "flat";
    case QualityFault::clipped: return "clipped";
    case QualityFault::noise: return "noise";
  }
  return "none";
}

py::array_t<float> array_of(const std::vector<float>& values) {
  return py::array_t<float>(static_cast<py::ssize_t>(values.size()), values.data());
}

}  // namespace

void bind_condition(py::module_& module) {
  py::class_<Signal>(module, "Signal",
                     "One conditioned channel: baseline and mains hum removed, on a uniform grid; NaN inside a gap.")
      .def_readonly("channel", &Signal::channel)
      .def_property_readonly("kind", [](const Signal& s) { return to_string(s.kind); })
      .def_property_readonly("rate_hz", [](const Signal& s) { return s.rate.value(); })
      .def_property_readonly("start_s", [](const Signal& s) { return s.start.value(); })
      .def_property_readonly(
          "values", [](py::object self) { return view_of(self.cast<const Signal&>().values, self); },
          "float32, read only, on the signal's own memory")
      .def_property_readonly("times",
                             [](const Signal& s) {
                               std::vector<double> times(s.values.size());
                               for (std::size_t i = 0; i < times.size(); ++i)
                                 times[i] = s.start.value() + static_cast<double>(i) / s.rate.value();
                               return column_of(times, [](double t) { return t; });
                             })
      .def_property_readonly(
          "gaps", [](const Signal& s) { return pairs_of(s.gaps); }, "(start, end) in seconds")
      .def_property_readonly(
          "quality",
          [](const Signal& s) {
            return column_of(s.quality, [](const SecondQuality& q) { return static_cast<double>(q.index); });
          },
          "0 (useless) to 1 (clean), one a second")
      .def_property_readonly(
          "quality_faults",
          [](const Signal& s) { return words_of(s.quality, [](const SecondQuality& q) { return word_of(q.fault); }); },
          "none, gap, flat, clipped or noise, one a second")
      .def_property_readonly(
          "mains_hz", [](const Signal& s) { return s.mains ? std::optional<double>(s.mains->value()) : std::nullopt; },
          "The hum that was found and removed, or None")
      .def_property_readonly("warnings", &warnings_of<Signal>)
      .def("__len__", [](const Signal& s) { return s.values.size(); })
      .def("__repr__", [](const Signal& s) {
        return "<Signal '" + s.channel + "', " + to_string(s.kind) + ", " + std::to_string(s.values.size()) +
               " samples at " + format_number(s.rate.value(), 3) + " Hz>";
      });
  module.def(
      "condition", [](const Channel& channel) { return condition(channel); }, py::arg("channel"),
      py::call_guard<py::gil_scoped_release>(),
      "Filters a channel without phase shift and judges the quality of every second.");
  module.def(
      "guess_kind", [](const Channel& channel) { return to_string(guess_kind(channel)); }, py::arg("channel"),
      "ecg, pulse or other, from the shape of the samples.");

  py::class_<CausalFilter>(module, "CausalFilter", "A Butterworth filter used causally, chunk by chunk.")
      .def(
          "process",
          [](CausalFilter& filter, const py::object& given) {
            const Samples samples = samples_of(given, "samples");
            const std::span<const float> in = span_of(samples);
            py::array_t<float> out(samples.size());
            filter.process(in, {out.mutable_data(), in.size()});
            return out;
          },
          py::arg("samples"),
          "Filters samples; float32 arrays are read where they lie. The cut into chunks does not matter.")
      .def("reset", &CausalFilter::reset, "Forgets everything.");
  const auto design = [](std::optional<double> low, std::optional<double> high, double rate, int order) {
    if (low && high) return butterworth_bandpass(order, Hertz{*low}, Hertz{*high}, Hertz{rate});
    if (low) return butterworth_highpass(order, Hertz{*low}, Hertz{rate});
    if (high) return butterworth_lowpass(order, Hertz{*high}, Hertz{rate});
    throw Error(ErrorCode::usage, "a filter needs low_hz, high_hz, or both");
  };
  module.def(
      "causal_filter",
      [design](double rate, std::optional<double> low, std::optional<double> high, int order) {
        return CausalFilter(design(low, high, rate, order));
      },
      py::arg("rate_hz"), py::kw_only(), py::arg("low_hz") = py::none(), py::arg("high_hz") = py::none(),
      py::arg("order") = 2,
      "Butterworth: high-pass with low_hz alone, low-pass with high_hz alone, band-pass with both; -3 dB at the "
      "edges.");
  module.def(
      "filter_zero_phase",
      [design](const py::object& given, double rate, std::optional<double> low, std::optional<double> high, int order) {
        const Samples samples = samples_of(given, "samples");
        const Sections sections = design(low, high, rate, order);
        std::vector<float> filtered;
        {
          const std::span<const float> in = span_of(samples);
          if (!std::all_of(in.begin(), in.end(), [](float value) { return std::isfinite(value); }))
            throw Error(ErrorCode::usage, "samples: every one is finite; fill or cut out what is missing");
          const py::gil_scoped_release unlocked;
          filtered = filter_zero_phase(sections, in);
        }
        return array_of(filtered);
      },
      py::arg("samples"), py::arg("rate_hz"), py::kw_only(), py::arg("low_hz") = py::none(),
      py::arg("high_hz") = py::none(), py::arg("order") = 2,
      "The same filter forwards and backwards: no phase shift, the gain squared. Samples must be finite.");
  module.def(
      "resample",
      [](const py::object& given, int up, int down) {
        const Samples samples = samples_of(given, "samples");
        std::vector<float> resampled;
        {
          const std::span<const float> in = span_of(samples);
          const py::gil_scoped_release unlocked;
          resampled = resample(in, up, down);
        }
        return array_of(resampled);
      },
      py::arg("samples"), py::arg("up"), py::arg("down"),
      "Changes the sampling rate by up / down, in lowest terms at most 100000 each.");
}

}  // namespace pulsewright::python
