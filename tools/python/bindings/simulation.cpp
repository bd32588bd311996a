/// Simulated recordings with known truth.
#include <algorithm>

#include "bindings.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright::python {

void bind_simulation(py::module_& module) {
  py::class_<Simulation>(module, "Simulation", "A made-up recording and the truth that went into it.")
      .def_property_readonly(
          "recording", [](const Simulation& s) -> const Recording& { return s.recording; },
          py::return_value_policy::reference_internal)
      .def_property_readonly(
          "beats", [](const Simulation& s) { return s.readable_beats(); },
          "Beats as a perfect reader finds them: R peaks with an ECG channel, else systolic peaks")
      .def_property_readonly(
          "artefacts", [](const Simulation& s) { return pairs_of(s.truth.artefacts); },
          "(start, end) where movement reaches the sensors")
      .def(
          "course_to_pandas",
          [](const Simulation& s) {
            py::dict columns;
            const auto& course = s.truth.course;
            columns["time_s"] = column_of(course, [](const CoursePoint& p) { return p.time.value(); });
            columns["course_bpm"] = column_of(course, [](const CoursePoint& p) { return p.rate.value(); });
            columns["reserve_percent"] = column_of(course, [](const CoursePoint& p) { return 100 * p.reserve; });
            columns["workload_percent"] = column_of(course, [](const CoursePoint& p) { return 100 * p.workload; });
            return table_of(columns);
          },
          "The course that drove the heart, a row a second.");
  module.def(
      "scenarios",
      [] {
        std::vector<std::pair<std::string, std::string>> all;
        for (const ScenarioName& scenario : scenario_names()) all.emplace_back(scenario.name, scenario.summary);
        return all;
      },
      "(name, summary) of every scenario.");
  module.def(
      "simulate",
      [](const std::string& name, const std::string& person, std::optional<double> duration_s,
         std::optional<std::uint64_t> seed, const std::vector<std::string>& sensors) {
        Scenario scenario = named_scenario(name, person);
        if (duration_s) scenario = stretched(std::move(scenario), Seconds{*duration_s});
        if (seed) scenario.seed = *seed;
        if (!sensors.empty()) {
          const auto wanted = [&sensors](const char* sensor) {
            return std::find(sensors.begin(), sensors.end(), sensor) != sensors.end();
          };
          for (const std::string& sensor : sensors)
            if (sensor != "ecg" && sensor != "pulse" && sensor != "motion")
              throw Error(ErrorCode::usage, "sensors: '" + sensor + "' is none of ecg, pulse, motion");
          if (!wanted("ecg")) scenario.ecg.reset();
          if (!wanted("pulse")) scenario.pulse.reset();
          if (!wanted("motion")) scenario.motion.reset();
        }
        return simulate(scenario);
      },
      py::arg("scenario"), py::arg("person") = "wren", py::kw_only(), py::arg("duration_s") = py::none(),
      py::arg("seed") = py::none(), py::arg("sensors") = std::vector<std::string>{},
      py::call_guard<py::gil_scoped_release>(),
      "A recording of a named scenario. sensors: which of ecg, pulse, motion to keep; none named: all it has.");
}

}  // namespace pulsewright::python
