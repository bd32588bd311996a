#include "pulsewright/simulate.hpp"
#include "record_files.hpp"
#include "text_files.hpp"

namespace pulsewright {

using namespace simulation;

std::vector<NamedBytes> simulation_files(const Simulation& simulation, const std::string& stem,
                                         SimulationFormat format) {
  const BeatTrain beats = simulation.readable_beats();
  std::vector<NamedBytes> files;
  if (format == SimulationFormat::open_record) {
    files = record_files(simulation, beats, stem);
  } else {
    files.push_back({stem + ".csv", recording_csv(simulation)});
  }
  files.push_back({stem + "_truth_beats.csv", truth_beats_csv(beats)});
  if (simulation.scenario.pulse) files.push_back({stem + "_truth_pulse.csv", truth_pulse_csv(simulation.truth)});
  files.push_back({stem + "_truth_rate.csv", truth_rate_csv(beats)});
  files.push_back({stem + "_truth_course.csv", truth_course_csv(simulation.truth)});
  files.push_back({stem + "_truth.json", truth_json(simulation)});
  return files;
}

}  // namespace pulsewright
