/// The Python module, put together stage by stage in the order of the pipeline.
#include "bindings.hpp"
#include "pulsewright/recording.hpp"

PYBIND11_MODULE(_core, module) {
  using namespace pulsewright::python;
  module.doc() =
      "The stages of pulsewright: raw samples of a heart sensor -> beats -> intervals -> heart rate -> effort.";
  module.attr("__version__") = pulsewright::version();
  bind_errors(module);
  bind_recording(module);
  bind_condition(module);
  bind_beats(module);
  bind_intervals(module);
  bind_rate(module);
  bind_breathing(module);
  bind_variability(module);
  bind_effort(module);
  bind_session(module);
  bind_agreement(module);
  bind_paired(module);
  bind_study(module);
  bind_simulation(module);
  bind_analysis(module);
  bind_batch(module);
}
