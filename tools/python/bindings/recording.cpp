/// Stage 1: recordings from files and from arrays.
#include "pulsewright/recording.hpp"

#include <algorithm>
#include <cmath>

#include "bindings.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "samples.hpp"

namespace pulsewright::python {
namespace {

ChannelKind kind_of(const std::string& word) {
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse, ChannelKind::acceleration, ChannelKind::gyro,
                                 ChannelKind::respiration, ChannelKind::marker, ChannelKind::other})
    if (word == to_string(kind)) return kind;
  throw Error(ErrorCode::usage,
              "kind: '" + word + "' is none of ecg, pulse, acceleration, gyro, respiration, marker, other");
}

/// Rates beyond these are in another unit (ours; the upper one is that of files).
constexpr double slowest_hz = 1e-3, fastest_hz = 1e7;

Channel make_channel(const std::string& name, const py::object& given, double rate_hz, const std::string& kind,
                     const std::string& unit, double start_s) {
  const Samples samples = samples_of(given, "samples of channel '" + name + "'");
  if (!(rate_hz >= slowest_hz && rate_hz <= fastest_hz))
    throw Error(ErrorCode::usage, "rate_hz of channel '" + name + "' must be above 0, and lie from 0.001 to 10000000");
  if (!std::isfinite(start_s)) throw Error(ErrorCode::usage, "start_s of channel '" + name + "' must be finite");
  Channel channel;
  channel.name = name;
  channel.unit = unit;
  channel.kind = kind_of(kind);
  channel.rate = Hertz{rate_hz};
  channel.start = Seconds{start_s};
  channel.samples.assign(samples.data(), samples.data() + samples.size());
  return channel;
}

Recording make_recording(std::vector<Channel> channels, const std::string& name) {
  Recording recording;
  for (const Channel& channel : channels) {
    const Seconds end = channel.start + static_cast<double>(channel.samples.size()) * period(channel.rate);
    recording.duration = std::max(recording.duration, end);
  }
  recording.channels = std::move(channels);
  recording.provenance.input = name;
  recording.provenance.format = "arrays";
  recording.provenance.version = version();
  return recording;
}

void bind_channel(py::module_& module) {
  py::class_<Channel>(module, "Channel",
                      "One channel of samples at a constant rate; NaN is a sample that was not recorded.")
      .def(py::init(&make_channel), py::arg("name"), py::arg("samples"), py::arg("rate_hz"), py::arg("kind") = "other",
           py::arg("unit") = "", py::arg("start_s") = 0.0,
           "samples: numbers in one dimension, converted to float32; what is masked was not recorded. kind: ecg, "
           "pulse, acceleration, gyro, respiration, marker or "
           "other.")
      .def_readonly("name", &Channel::name)
      .def_readonly("unit", &Channel::unit)
      .def_property_readonly("kind", [](const Channel& c) { return to_string(c.kind); })
      .def_property_readonly("rate_hz", [](const Channel& c) { return c.rate.value(); })
      .def_property_readonly("start_s", [](const Channel& c) { return c.start.value(); })
      .def_property_readonly(
          "samples", [](py::object self) { return view_of(self.cast<const Channel&>().samples, self); },
          "float32, read only, on the channel's own memory")
      .def_property_readonly(
          "times",
          [](const Channel& c) {
            std::vector<SampleIndex> all(c.samples.size());
            for (std::size_t i = 0; i < all.size(); ++i) all[i] = SampleIndex{static_cast<std::int64_t>(i)};
            return column_of(all, [&c](SampleIndex i) { return c.time_of_sample(i).value(); });
          },
          "Seconds from the start of the recording, one a sample")
      .def("__len__", [](const Channel& c) { return c.samples.size(); })
      .def("__repr__", [](const Channel& c) {
        return "<Channel '" + c.name + "', " + to_string(c.kind) + ", " + std::to_string(c.samples.size()) +
               " samples at " + format_number(c.rate.value(), 3) + " Hz>";
      });
}

}  // namespace

void bind_recording(py::module_& module) {
  bind_channel(module);
  py::class_<Recording>(module, "Recording", "Channels of samples on one clock.")
      .def(py::init(&make_recording), py::arg("channels"), py::arg("name") = "arrays")
      .def_property_readonly(
          "channels",
          [](py::object self) {
            py::list channels;
            for (Channel& channel : self.cast<Recording&>().channels)
              channels.append(py::cast(&channel, py::return_value_policy::reference_internal, self));
            return channels;
          },
          "In file order; each shares the recording's memory")
      .def(
          "channel",
          [](py::object self, const std::string& selector) {
            Recording& recording = self.cast<Recording&>();
            return py::cast(&recording.channels[find_channel(recording, selector)],
                            py::return_value_policy::reference_internal, self);
          },
          py::arg("selector"), "A channel by name, or by position from 1: '2', or '#2' where a name is a number.")
      .def_property_readonly("duration_s", [](const Recording& r) { return r.duration.value(); })
      .def_readonly("clock_start", &Recording::clock_start,
                    "When it began, ISO 8601, where the input says so; else None")
      .def_property_readonly("warnings", &warnings_of<Recording>, "(code, message) pairs")
      .def(
          "to_pandas",
          [](const Recording& r) {
            py::dict columns;
            columns["channel"] = words_of(r.channels, [](const Channel& c) { return c.name; });
            columns["kind"] = words_of(r.channels, [](const Channel& c) { return to_string(c.kind); });
            columns["unit"] = words_of(r.channels, [](const Channel& c) { return c.unit; });
            columns["rate_hz"] = column_of(r.channels, [](const Channel& c) { return c.rate.value(); });
            columns["samples_count"] =
                column_of(r.channels, [](const Channel& c) { return static_cast<double>(c.samples.size()); });
            return table_of(columns);
          },
          "One row a channel.")
      .def("to_json", &recording_json)
      .def("__repr__", [](const Recording& r) {
        return "<Recording '" + r.provenance.input + "', " + std::to_string(r.channels.size()) + " channels, " +
               format_clock(r.duration) + ">";
      });
  module.def(
      "read_recording",
      [](const std::filesystem::path& path, std::optional<double> rate_hz, std::optional<double> start_s,
         std::optional<double> end_s) {
        ReadOptions options;
        options.rate = unit_of<Hertz>(rate_hz);
        options.start = unit_of<Seconds>(start_s);
        options.end = unit_of<Seconds>(end_s);
        return read_recording(path, options);
      },
      py::arg("path"), py::kw_only(), py::arg("rate_hz") = py::none(), py::arg("start_s") = py::none(),
      py::arg("end_s") = py::none(), py::call_guard<py::gil_scoped_release>(),
      "Reads a recording; the format is recognised by content. An open record is named by its path without suffix.\n\n"
      "rate_hz: of text without a time base. start_s, end_s: the stretch to keep.\n"
      "Raises UnreadableError naming file, place, value and rule.");
}

}  // namespace pulsewright::python
