#include "stage_results.hpp"

#include <utility>

namespace pulsewright::program {

nlohmann::ordered_json joined(std::initializer_list<nlohmann::ordered_json> groups) {
  auto all = nlohmann::ordered_json::object();
  for (const auto& group : groups) all.update(group);
  return all;
}

AnalyzeOptions analyze_options(const StageFlags& flags) {
  AnalyzeOptions options;
  options.rate = rate_options(flags.window);
  options.effort = effort_options(flags.person);
  return options;
}

BeatTrain stamped_beats(const InputFlags& input, const nlohmann::ordered_json& options) {
  BeatTrain beats = beats_of(input);
  beats.provenance.options = options.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
  beats.provenance.version = version();
  return beats;
}

Analysis analyze_input(const InputFlags& input, const StageFlags& stages) {
  const AnalyzeOptions options = analyze_options(stages);
  const auto stated = joined({settings(input), settings(stages.window), settings(stages.person)});
  Analysis analysis = analyze(stamped_beats(input, stated), person_of(stages.person), options);
  for (Warning& warning : person_warnings(stages.person)) analysis.effort.warnings.push_back(std::move(warning));
  for (Provenance* provenance : {&analysis.intervals.provenance, &analysis.rates.provenance,
                                 &analysis.variability.provenance, &analysis.effort.provenance})
    *provenance = analysis.beats.provenance;
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
