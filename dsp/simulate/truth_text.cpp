
#include "pulsewright/json.hpp"
#include "pulsewright/report.hpp"
#include "text_files.hpp"

namespace pulsewright::simulation {

namespace {

constexpr int time_decimals = 6;
constexpr int rate_decimals = 3;
/// Windows of the contract's rate table.
constexpr Seconds window{8.0};
constexpr Seconds window_step{2.0};

std::string time_cell(Seconds time) { return format_number(time.value(), time_decimals); }

Json spans_json(const std::vector<Span>& spans) {
  Json list = Json::array();
  for (const Span& span : spans) list.push_back({{"start_s", span.start.value()}, {"end_s", span.end.value()}});
  return list;
}

}  // namespace

std::string truth_beats_csv(const BeatTrain& beats) {
  std::string bytes = "time_s,label\n";
  for (const Beat& beat : beats.candidates) bytes += time_cell(beat.time) + ',' + to_string(beat.label) + '\n';
  return bytes;
}

std::string truth_pulse_csv(const Truth& truth) {
  const Span inside{Seconds{0.0}, truth.duration};
  std::string bytes = "time_s,label,delay_s\n";
  for (const TrueBeat& beat : truth.beats) {
    if (!beat.pulse_visible || !inside.contains(beat.pulse_time)) continue;
    bytes += time_cell(beat.pulse_time) + ',' + to_string(beat.label) + ',' + time_cell(beat.delay) + '\n';
  }
  return bytes;
}

std::string truth_rate_csv(const BeatTrain& beats) {
  std::string bytes = "start_s,end_s,bpm\n";
  const std::vector<Beat>& all = beats.candidates;
  std::size_t first = 0;
  for (int k = 0;; ++k) {
    const Span span{static_cast<double>(k) * window_step, static_cast<double>(k) * window_step + window};
    if (span.end > beats.duration) break;
    while (first < all.size() && all[first].time < span.start) ++first;
    std::size_t end = first;
    while (end < all.size() && all[end].time < span.end) ++end;
    std::optional<double> bpm;
    if (end - first >= 2) {
      bpm = 60.0 * static_cast<double>(end - first - 1) / (all[end - 1].time - all[first].time).value();
    }
    bytes += time_cell(span.start) + ',' + time_cell(span.end) + ',' + format_number(bpm, rate_decimals) + '\n';
  }
  return bytes;
}

std::string truth_course_csv(const Truth& truth) {
  constexpr double minute = 60.0;
  std::string bytes = "time_s,course_bpm,reserve_percent,workload_percent,breaths_per_min,steps_per_min\n";
  for (const CoursePoint& point : truth.course) {
    bytes += format_number(point.time.value(), 0);
    for (const double value : {point.rate.value(), 100.0 * point.reserve, 100.0 * point.workload,
                               minute * point.breaths.value(), minute * point.cadence.value()}) {
      bytes += ',' + format_number(value, rate_decimals);
    }
    bytes += '\n';
  }
  return bytes;
}

std::string truth_json(const Simulation& simulation) {
  const Truth& truth = simulation.truth;
  Json phases = Json::array();
  for (const PhaseSpan& phase : truth.phases) {
    phases.push_back({{"name", phase.name},
                      {"start_s", phase.span.start.value()},
                      {"end_s", phase.span.end.value()},
                      {"workload", phase.workload}});
  }
  Json drop_outs = Json::array();
  for (const DropOut& lost : truth.drop_outs) {
    drop_outs.push_back({{"start_s", lost.span.start.value()},
                         {"end_s", lost.span.end.value()},
                         {"form", lost.form == DropOutForm::gap ? "gap" : "flat"},
                         {"kind", to_string(lost.kind)}});
  }
  int early = 0;
  for (const TrueBeat& beat : truth.beats) early += beat.label == BeatLabel::normal ? 0 : 1;
  const Json all{{"schema_version", schema_version},
                 {"duration_s", truth.duration.value()},
                 {"beat_count", simulation.readable_beats().candidates.size()},
                 {"early_beat_count", early},
                 {"clock_error_ppm", truth.clock_error_ppm},
                 {"phases", phases},
                 {"moving", spans_json(truth.moving)},
                 {"loose_spells", spans_json(truth.artefacts)},
                 {"drop_outs", drop_outs},
                 {"provenance",
                  {{"input", simulation.recording.provenance.input},
                   {"format", simulation.recording.provenance.format},
                   {"options", Json::parse(scenario_json(simulation.scenario))},
                   {"version", version()}}}};
  return all.dump(2) + '\n';
}

}  // namespace pulsewright::simulation
