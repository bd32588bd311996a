#include "stage_results.hpp"

#include <thread>
#include <utility>

#include "options/input_options.hpp"
#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright::program {

Json joined(std::initializer_list<Json> groups) {
  auto all = Json::object();
  for (const auto& group : groups) all.update(group);
  return all;
}

Request request_of(const InputFlags& input, const StageFlags& stages) {
  Request request = request_of(input);
  request.rate = rate_options(stages.window);
  request.person = person_of(stages.person);
  request.effort = effort_options(stages.person);
  return request;
}

AnalyzeOptions analyze_options(const StageFlags& flags) {
  AnalyzeOptions options;
  options.rate = rate_options(flags.window);
  options.effort = effort_options(flags.person);
  return options;
}

namespace {

void stamp(BeatTrain& beats, const Json& options) {
  beats.provenance.options = settings_text(options);
  beats.provenance.version = version();
}

/// What is to be known of the person's flags goes with the effort that they lead to.
void add_person_warnings(Analysis& analysis, const StageFlags& stages) {
  for (Warning& warning : person_warnings(stages.person)) analysis.effort.warnings.push_back(std::move(warning));
}

/// The beats as a reviewer left them, with the settings in their provenance.
BeatReview review_of(const InputFlags& input, const StageFlags& stages) {
  return [&](BeatTrain beats) {
    beats = reviewed(std::move(beats), input);
    stamp(beats, joined({settings(input), settings(stages.window), settings(stages.person)}));
    return beats;
  };
}

}  // namespace

RateSeries stamped_rates(const InputFlags& input, const WindowFlags& window, Warnings& of_beats) {
  InputBeats found = beats_and_track_of(input);
  stamp(found.beats, joined({settings(input), settings(window)}));
  RateSeries rates = heart_rate(found.beats, clean(found.beats), found.track, rate_options(window));
  rates.provenance = found.beats.provenance;
  of_beats.insert(of_beats.end(), found.beats.warnings.begin(), found.beats.warnings.end());
  return rates;
}

BeatTrain stamped_beats(const InputFlags& input, const Json& options) {
  BeatTrain beats = beats_of(input);
  stamp(beats, options);
  return beats;
}

Analysis analyze_input(const InputFlags& input, const StageFlags& stages) {
  Request request = request_of(input, stages);
  request.threads = std::thread::hardware_concurrency();
  Analysis analysis = pulsewright::analyze_input(request, review_of(input, stages));
  add_person_warnings(analysis, stages);
  return analysis;
}

Analysis analyze_input(const InputFlags& input, const StageFlags& stages, InputSignals& signals) {
  if (input.form != "recording") return analyze_input(input, stages);
  signals.recording = read_recording(input.input, read_options(input));
  AnalyzeOptions options = analyze_options(stages);
  options.find = find_options(input, *signals.recording);
  options.motion = motion_channels(input, *signals.recording);
  options.review = review_of(input, stages);
  options.threads = std::thread::hardware_concurrency();
  signals.chosen = choose_signals(*signals.recording, options.find);
  Analysis analysis = analyze(*signals.recording, signals.chosen, person_of(stages.person), options);
  add_person_warnings(analysis, stages);
  return analysis;
}

Warnings warnings_of(const Analysis& analysis) {
  Warnings all;
  for (const Warnings* stage : {&analysis.beats.warnings, &analysis.intervals.warnings, &analysis.rates.warnings,
                                &analysis.variability.warnings, &analysis.effort.warnings})
    all.insert(all.end(), stage->begin(), stage->end());
  return all;
}

}  // namespace pulsewright::program
