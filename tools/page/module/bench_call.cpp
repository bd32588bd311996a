/// The lab bench: one recording through the pipeline, stage by stage, with what the stages are asked changed, beside what they give as they are; and the
/// pupil's own detector beside the library's.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "calls.hpp"
#include "own_detector.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright::page {
namespace {

/// What is kept between two turns of a slider: the recording, and what the stages give as they are.
struct OpenBench {
  Recording recording;
  FindOptions usual;
  BeatTrain usual_beats;
};

std::optional<OpenBench>& open_bench() {
  static std::optional<OpenBench> bench;
  return bench;
}

/// The object of a key; an empty one when it is not there.
Json part(const Json& asked, const char* key) {
  const Json* found = asked.find(key);
  return found != nullptr ? *found : Json::object();
}

std::optional<double> number(const Json& asked, const char* key) {
  const Json* found = asked.find(key);
  return found != nullptr && found->is_number() ? std::optional(found->get<double>()) : std::nullopt;
}

void set_edge(const Json& asked, const char* key, Hertz& edge) {
  if (const auto value = number(asked, key)) edge = Hertz{*value};
}

FindOptions changed(FindOptions options, const Json& asked) {
  set_edge(asked, "ecg_baseline_hz", options.condition.ecg_baseline);
  set_edge(asked, "pulse_baseline_hz", options.condition.pulse_baseline);
  set_edge(asked, "pulse_top_hz", options.condition.pulse_top);
  const std::string mains = text_of(asked, "mains");
  if (mains == "none") options.condition.mains = MainsChoice::none;
  if (mains == "50") options.condition.mains = MainsChoice::at_50_hz;
  if (mains == "60") options.condition.mains = MainsChoice::at_60_hz;
  if (const auto value = number(asked, "refractory_s"))
    options.ecg.refractory = options.pulse.refractory = Seconds{*value};
  return options;
}

Json cell(double value) { return std::isfinite(value) ? Json(std::round(value * 1e4) / 1e4) : Json(); }

/// The samples of a grid inside a stretch, with where the first lies.
Json drawn(const std::vector<float>& values, Seconds start, Hertz rate, Span view) {
  const auto place = [&](Seconds time) {
    const double at = std::ceil((time - start).value() * rate.value());
    return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(values.size())));
  };
  const std::size_t first = place(view.start), last = place(view.end);
  Json list = Json::array();
  for (std::size_t i = first; i < last; ++i) list.push_back(cell(static_cast<double>(values[i])));
  return {{"start_s", start.value() + static_cast<double>(first) / rate.value()},
          {"rate_hz", rate.value()},
          {"values", list}};
}

bool inside(Seconds time, Span view) { return !(time < view.start) && time < view.end; }

Json agreement_of(const BeatTrain& reference, const BeatTrain& test) {
  const BeatAgreement found = match_beats(reference, test);
  const auto percent = [](std::optional<double> value) { return value ? cell(*value) : Json(); };
  return {{"found", found.true_positives},
          {"missed", found.false_negatives},
          {"extra", found.false_positives},
          {"sensitivity_percent", percent(found.sensitivity_percent())},
          {"positive_predictivity_percent", percent(found.positive_predictivity_percent())},
          {"f1_percent", percent(found.f1_percent())}};
}

Json beats_in(const BeatTrain& beats, Span view) {
  Json list = Json::array();
  for (const Beat& beat : beats.candidates)
    if (inside(beat.time, view))
      list.push_back(
          {{"time_s", beat.time.value()}, {"confidence", cell(beat.confidence)}, {"verdict", to_string(beat.verdict)}});
  return list;
}

Json trace_in(const DetectionTrace& trace, Span view) {
  Json reply = {{"function", drawn(trace.function, trace.start, trace.rate, view)}, {"candidates", Json::array()}};
  for (const TracedCandidate& candidate : trace.candidates)
    if (inside(candidate.time, view))
      reply["candidates"].push_back({{"time_s", candidate.time.value()},
                                     {"size", cell(candidate.size)},
                                     {"usual", cell(candidate.usual)},
                                     {"verdict", to_string(candidate.verdict)}});
  return reply;
}

Json rates_of(const BeatTrain& beats, const Json& asked) {
  RateOptions options;
  if (const auto value = number(asked, "window_s")) options.window = Seconds{*value};
  if (const auto value = number(asked, "least_confidence")) options.least_confidence = *value;
  const RateSeries rates = rate_over_windows(beats, clean(beats), options);
  Json list = Json::array();
  for (const RateWindow& window : rates.windows)
    list.push_back({{"time_s", (window.window.start.value() + window.window.end.value()) / 2},
                    {"bpm", window.rate ? cell(window.rate->value()) : Json()},
                    {"low_bpm", window.low ? cell(window.low->value()) : Json()},
                    {"high_bpm", window.high ? cell(window.high->value()) : Json()}});
  return list;
}

Json own_detection(const Signal& signal, const BeatTrain& usual, const Json& asked, Span view) {
  OwnDetector detector;
  if (const auto value = number(asked, "smooth_s")) detector.smooth = Seconds{*value};
  if (const auto value = number(asked, "threshold")) detector.threshold = *value;
  if (const auto value = number(asked, "refractory_s")) detector.refractory = Seconds{*value};
  const OwnDetection seen = detect(signal, detector);
  BeatTrain train;
  train.duration = usual.duration;
  Json times = Json::array();
  for (const Seconds time : seen.beats) {
    Beat beat;
    beat.time = time;
    train.candidates.push_back(beat);
    if (inside(time, view)) times.push_back(time.value());
  }
  return {{"smoothed", drawn(seen.smoothed, signal.start, signal.rate, view)},
          {"threshold", drawn(seen.threshold, signal.start, signal.rate, view)},
          {"beats", times},
          {"count", seen.beats.size()},
          {"agreement", agreement_of(usual, train)}};
}

}  // namespace

Json bench_open(const Json& asked) {
  open_bench().reset();
  Request request = with_options({}, options_of(asked));
  request.input = text_of(asked, "file");
  OpenBench bench;
  bench.recording = read_recording(request.input, request.read);
  bench.usual = find_options(request, bench.recording);
  tell_progress("beats");
  const ChosenSignals chosen = choose_signals(bench.recording, bench.usual);
  bench.usual_beats = find_beats(bench.recording, chosen, bench.usual);
  Json reply = {{"kind", to_string(chosen.kind)},
                {"channel", bench.recording.channels[chosen.channels.front()].name},
                {"unit", bench.recording.channels[chosen.channels.front()].unit},
                {"rate_hz", chosen.signals.front().rate.value()},
                {"start_s", chosen.signals.front().start.value()},
                {"duration_s", bench.recording.duration.value()},
                {"beats", bench.usual_beats.accepted().size()}};
  open_bench() = std::move(bench);
  return reply;
}

Json bench_turn(const Json& asked) {
  if (!open_bench()) throw Error(ErrorCode::usage, "nothing lies on the bench");
  const OpenBench& bench = *open_bench();
  const Json view_asked = part(asked, "view");
  const Span view{Seconds{number(view_asked, "start_s").value_or(0)},
                  Seconds{number(view_asked, "end_s").value_or(10)}};
  const FindOptions options = changed(bench.usual, part(asked, "stages"));
  const ChosenSignals chosen = choose_signals(bench.recording, options);
  const BeatTrain beats = find_beats(bench.recording, chosen, options);
  const Signal& signal = chosen.signals.front();
  const Signal raw = uniform_signal(bench.recording.channels[chosen.channels.front()], options.condition);
  Json quality = Json::array();
  for (std::size_t second = 0; second < signal.quality.size(); ++second) {
    const Seconds start = signal.start + Seconds{static_cast<double>(second)};
    if (start < view.end && view.start < start + Seconds{1.0})
      quality.push_back(
          {{"start_s", start.value()}, {"index", cell(static_cast<double>(signal.quality[second].index))}});
  }
  return {{"raw", drawn(raw.values, raw.start, raw.rate, view)},
          {"conditioned", drawn(signal.values, signal.start, signal.rate, view)},
          {"quality", quality},
          {"mains_hz", signal.mains ? Json(signal.mains->value()) : Json()},
          {"trace", trace_in(detection_trace(chosen, view, options), view)},
          {"beats", beats_in(beats, view)},
          {"count", beats.accepted().size()},
          {"agreement", agreement_of(bench.usual_beats, beats)},
          {"rates", rates_of(beats, part(asked, "stages"))},
          {"own", own_detection(signal, bench.usual_beats, part(asked, "own"), view)}};
}

}  // namespace pulsewright::page
