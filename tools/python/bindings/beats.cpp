/// Stage 3: beats, and the rate track beside them.
#include "pulsewright/beats.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "bindings.hpp"
#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/rate_track.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "samples.hpp"

namespace pulsewright::python {
namespace {

KindChoice choice_of(const std::string& word) {
  if (word == "auto") return KindChoice::automatic;
  if (word == "ecg") return KindChoice::ecg;
  if (word == "pulse") return KindChoice::pulse;
  throw Error(ErrorCode::usage, "kind: '" + word + "' is none of auto, ecg, pulse");
}

std::vector<std::size_t> positions_of(const Recording& recording, const std::vector<std::string>& selectors) {
  std::vector<std::size_t> positions;
  positions.reserve(selectors.size());
  for (const std::string& selector : selectors) positions.push_back(find_channel(recording, selector));
  return positions;
}

FindOptions find_options(const Recording& recording, const std::string& kind, const std::vector<std::string>& channels,
                         bool streaming) {
  FindOptions options;
  options.kind = choice_of(kind);
  options.channels = positions_of(recording, channels);
  options.streaming = streaming;
  return options;
}

BeatTrain train_of(const std::vector<double>& times, std::optional<double> duration) {
  BeatTrain train;
  for (const double time : times) {
    // As of a list in a file: what follows is worked out for all of its span.
    if (!(std::abs(time) <= longest_list.value()))
      throw Error(ErrorCode::usage, "times_s: " + std::to_string(time) + " s; times are finite, and within 60 days");
    if (!train.candidates.empty() && !(train.candidates.back().time < Seconds{time}))
      throw Error(ErrorCode::usage, "times must rise: " + format_number(time, 6) + " s follows " +
                                        format_number(train.candidates.back().time.value(), 6) + " s");
    Beat beat;
    beat.time = Seconds{time};
    beat.confidence = 1.0;
    train.candidates.push_back(beat);
  }
  const double last = times.empty() ? 0.0 : times.back();
  if (duration && !(*duration >= last && *duration <= longest_list.value()))
    throw Error(ErrorCode::usage, "duration_s: " + std::to_string(*duration) + " s; the beats end at " +
                                      format_number(last, 6) + " s, and 60 days are the most");
  train.duration = Seconds{duration.value_or(last)};
  train.provenance.input = "arrays";
  train.provenance.format = "arrays";
  train.provenance.version = version();
  return train;
}

double foot_of(const Beat& beat) { return beat.foot ? beat.foot->value() : std::numeric_limits<double>::quiet_NaN(); }

py::object beats_table(const std::vector<Beat>& beats) {
  py::dict columns;
  columns["time_s"] = column_of(beats, [](const Beat& b) { return b.time.value(); });
  py::array_t<std::int64_t> samples(static_cast<py::ssize_t>(beats.size()));
  for (std::size_t i = 0; i < beats.size(); ++i) samples.mutable_data()[i] = beats[i].sample.value();
  columns["sample"] = samples;
  columns["confidence"] = column_of(beats, [](const Beat& b) { return b.confidence; });
  if (std::any_of(beats.begin(), beats.end(), [](const Beat& b) { return b.foot.has_value(); }))
    columns["foot_s"] = column_of(beats, foot_of);
  columns["verdict"] = words_of(beats, [](const Beat& b) { return to_string(b.verdict); });
  columns["label"] = words_of(beats, [](const Beat& b) { return to_string(b.label); });
  return table_of(columns);
}

void bind_train(py::module_& module) {
  py::class_<BeatTrain>(module, "BeatTrain",
                        "The beats of one person over one recording, rejected candidates included.")
      .def(py::init(&train_of), py::arg("times_s"), py::arg("duration_s") = py::none(),
           "Beats that are already known, in rising order.")
      .def_property_readonly(
          "times",
          [](const BeatTrain& t) { return column_of(t.accepted(), [](const Beat& b) { return b.time.value(); }); },
          "Of the accepted beats, in seconds")
      .def_property_readonly(
          "confidence",
          [](const BeatTrain& t) { return column_of(t.accepted(), [](const Beat& b) { return b.confidence; }); },
          "Of each accepted beat: the probability that it lies within 150 ms of a true one")
      .def_property_readonly(
          "feet", [](const BeatTrain& t) { return column_of(t.accepted(), foot_of); },
          "Where the upstroke of each accepted pulse beat begins, in seconds; NaN where none is told")
      .def_property_readonly("unreadable", [](const BeatTrain& t) { return pairs_of(t.unreadable); })
      .def_property_readonly("readable_percent", &readable_percent)
      .def_property_readonly("duration_s", [](const BeatTrain& t) { return t.duration.value(); })
      .def_property_readonly("source", [](const BeatTrain& t) { return to_string(t.source); })
      .def_property_readonly("warnings", &warnings_of<BeatTrain>)
      .def(
          "to_pandas", [](const BeatTrain& t, bool all) { return beats_table(all ? t.candidates : t.accepted()); },
          py::arg("all") = false, "One row a beat; with all=True a row a candidate.")
      .def(
          "to_json", [](const BeatTrain& t, bool all) { return beats_json(t, {.rejected = all}); },
          py::arg("all") = false)
      .def("__len__", [](const BeatTrain& t) { return t.accepted().size(); })
      .def("__repr__", [](const BeatTrain& t) {
        return "<BeatTrain of " + std::to_string(t.accepted().size()) + " beats over " + format_clock(t.duration) + ">";
      });
}

void bind_finding(py::module_& module) {
  module.def(
      "find_beats",
      [](const Recording& recording, const std::string& kind, const std::vector<std::string>& channels,
         bool streaming) {
        const FindOptions options = find_options(recording, kind, channels, streaming);
        return find_and_label_beats(recording, choose_signals(recording, options), options);
      },
      py::arg("recording"), py::kw_only(), py::arg("kind") = "auto", py::arg("channels") = std::vector<std::string>{},
      py::arg("streaming") = false, py::call_guard<py::gil_scoped_release>(),
      "Finds the beats in the chosen channels, fused, and labels those of an ECG; in every channel of the kind when "
      "none is named.");
  module.def(
      "read_beats",
      [](const std::filesystem::path& path, std::optional<double> rate_hz) {
        return read_beats(path, unit_of<Hertz>(rate_hz)).beats;
      },
      py::arg("path"), py::kw_only(), py::arg("rate_hz") = py::none(), py::call_guard<py::gil_scoped_release>(),
      "Reads beat times: an annotation file, a CSV with time_s, or sample numbers from 0 (rate_hz needed).");
  module.def(
      "read_flutter",
      [](const std::filesystem::path& path, std::optional<double> rate_hz) {
        return pairs_of(read_beats(path, unit_of<Hertz>(rate_hz)).flutter);
      },
      py::arg("path"), py::kw_only(), py::arg("rate_hz") = py::none(),
      "Episodes of ventricular flutter in an annotation file, as (start, end) in seconds; they are left out of "
      "scoring.");
  py::class_<DetectionTrace>(module, "DetectionTrace", "What the detector looks at over a stretch.")
      .def_property_readonly("start_s", [](const DetectionTrace& t) { return t.start.value(); })
      .def_property_readonly("rate_hz", [](const DetectionTrace& t) { return t.rate.value(); })
      .def_property_readonly("function",
                             [](py::object self) { return view_of(self.cast<const DetectionTrace&>().function, self); })
      .def(
          "to_pandas",
          [](const DetectionTrace& t) {
            py::dict columns;
            columns["time_s"] = column_of(t.candidates, [](const TracedCandidate& c) { return c.time.value(); });
            columns["size"] = column_of(t.candidates, [](const TracedCandidate& c) { return c.size; });
            columns["usual"] = column_of(t.candidates, [](const TracedCandidate& c) { return c.usual; });
            columns["log_odds"] = column_of(t.candidates, [](const TracedCandidate& c) { return c.log_odds; });
            columns["verdict"] = words_of(t.candidates, [](const TracedCandidate& c) { return to_string(c.verdict); });
            return table_of(columns);
          },
          "One row a candidate.");
  module.def(
      "detection_trace",
      [](const Recording& recording, double start_s, double end_s, const std::string& kind,
         const std::vector<std::string>& channels) {
        if (!(start_s < end_s))
          throw Error(ErrorCode::usage, "start_s and end_s: " + format_number(start_s, 3) + " and " +
                                            format_number(end_s, 3) + " s; a stretch ends after it begins");
        const FindOptions options = find_options(recording, kind, channels, false);
        return detection_trace(choose_signals(recording, options), Span{Seconds{start_s}, Seconds{end_s}}, options);
      },
      py::arg("recording"), py::arg("start_s"), py::arg("end_s"), py::kw_only(), py::arg("kind") = "auto",
      py::arg("channels") = std::vector<std::string>{}, py::call_guard<py::gil_scoped_release>(),
      "The whole-file detector seen from inside, over a stretch of seconds.");
}

void bind_stream(py::module_& module) {
  py::class_<BeatStream>(module, "BeatStream", "The causal detector: samples in, beats out, in chunks of any size.")
      .def(py::init([](const std::string& kind, double rate_hz) {
             if (kind != "ecg" && kind != "pulse")
               throw Error(ErrorCode::usage, "kind: '" + kind + "' is neither ecg nor pulse");
             return BeatStream(kind == "ecg" ? ChannelKind::ecg : ChannelKind::pulse, Hertz{rate_hz});
           }),
           py::arg("kind"), py::arg("rate_hz"))
      .def(
          "push",
          [](BeatStream& stream, const py::object& given) {
            const Samples samples = samples_of(given, "samples");
            std::vector<Beat> beats;
            const std::span<const float> chunk(samples.data(), static_cast<std::size_t>(samples.size()));
            {
              const py::gil_scoped_release unlocked;
              stream.push(std::span<const std::span<const float>>(&chunk, 1), beats);
            }
            return beats_table(beats);
          },
          py::arg("samples"), "Takes new samples; gives the candidates now decided, one row each.")
      .def(
          "finish",
          [](BeatStream& stream) {
            std::vector<Beat> beats;
            stream.finish(beats);
            return beats_table(beats);
          },
          "Decides what is left at the end.")
      .def_property_readonly(
          "look_ahead_s", [](const BeatStream& s) { return s.look_ahead().value(); },
          "A beat is decided at most this long after it");
}

void bind_track(py::module_& module) {
  py::class_<RateTrack>(module, "RateTrack", "Heart rate followed through the spectra of pulse signals, every 2 s.")
      .def_property_readonly("delay_s", [](const RateTrack& t) { return t.delay.value(); })
      .def_readonly("motion_used", &RateTrack::motion_used)
      .def_property_readonly("warnings", &warnings_of<RateTrack>)
      .def(
          "to_pandas",
          [](const RateTrack& t) {
            py::dict columns;
            columns["start_s"] = column_of(t.points, [](const TrackPoint& p) { return p.window.start.value(); });
            columns["end_s"] = column_of(t.points, [](const TrackPoint& p) { return p.window.end.value(); });
            columns["bpm"] = column_of(t.points, [](const TrackPoint& p) { return nan_without(p.rate); });
            columns["low_bpm"] = column_of(t.points, [](const TrackPoint& p) { return nan_without(p.low); });
            columns["high_bpm"] = column_of(t.points, [](const TrackPoint& p) { return nan_without(p.high); });
            columns["confidence"] = column_of(t.points, [](const TrackPoint& p) {
              return p.confidence.value_or(std::numeric_limits<double>::quiet_NaN());
            });
            columns["cadence_per_min"] =
                column_of(t.points, [](const TrackPoint& p) { return nan_without(p.cadence); });
            return table_of(columns);
          },
          "One row a window of 8 s.")
      .def("__len__", [](const RateTrack& t) { return t.points.size(); });
  module.def(
      "track_rate",
      [](const Recording& recording, const std::vector<std::string>& channels,
         const std::optional<std::vector<std::string>>& motion, bool streaming) {
        TrackOptions options;
        options.channels = positions_of(recording, channels);
        if (motion) options.motion = positions_of(recording, *motion);
        options.streaming = streaming;
        return track_rate(recording, options);
      },
      py::arg("recording"), py::kw_only(), py::arg("channels") = std::vector<std::string>{},
      py::arg("motion") = py::none(), py::arg("streaming") = false, py::call_guard<py::gil_scoped_release>(),
      "Follows the rate of pulse channels in their spectra. motion: names of acceleration and gyro channels; None "
      "takes all, [] none.");
}

}  // namespace

void bind_beats(py::module_& module) {
  bind_train(module);
  bind_finding(module);
  bind_stream(module);
  bind_track(module);
}

}  // namespace pulsewright::python
