/// Stage 6: what one session says beyond its time account: phases, kinetics, recovery, load.
#include "pulsewright/session.hpp"

#include "bindings.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright::python {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

/// The time constant of a phase; nothing where the fit does not deserve one.
const TimeConstant* fit_of(const SessionEffort& session, std::size_t phase) {
  for (const PhaseKinetics& kinetics : session.kinetics)
    if (kinetics.phase == phase && kinetics.fit) return &*kinetics.fit;
  return nullptr;
}

py::object phases_table(const SessionEffort& session) {
  const auto& phases = session.phases;
  std::vector<const TimeConstant*> fits;
  fits.reserve(phases.size());
  for (std::size_t k = 0; k < phases.size(); ++k) fits.push_back(fit_of(session, k));
  py::dict columns;
  columns["kind"] = words_of(phases, [](const Phase& p) { return to_string(p.kind); });
  columns["start_s"] = column_of(phases, [](const Phase& p) { return p.span().start.value(); });
  columns["end_s"] = column_of(phases, [](const Phase& p) { return p.span().end.value(); });
  columns["mean_bpm"] = column_of(phases, [](const Phase& p) { return nan_without(p.mean_rate); });
  columns["peak_bpm"] = column_of(phases, [](const Phase& p) { return nan_without(p.peak_rate); });
  columns["settling_bpm"] = column_of(phases, [](const Phase& p) { return nan_without(p.settling_rate); });
  columns["tau_s"] = column_of(fits, [](const TimeConstant* f) { return f ? f->tau.value() : none; });
  columns["tau_low_s"] = column_of(fits, [](const TimeConstant* f) { return f ? f->low.value() : none; });
  columns["tau_high_s"] = column_of(fits, [](const TimeConstant* f) { return f ? f->high.value() : none; });
  return table_of(columns);
}

py::object course_table(const SessionEffort& session) {
  const auto& cells = session.cells;
  py::dict columns;
  columns["start_s"] = column_of(cells, [](const EffortCell& c) { return 1e-6 * static_cast<double>(c.start_us); });
  columns["bpm"] = column_of(cells, [](const EffortCell& c) { return nan_without(c.rate); });
  columns["reserve_percent"] = column_of(cells, [&](const EffortCell& c) {
    return c.rate ? reserve_percent(session.effort, *c.rate).value_or(none) : none;
  });
  return table_of(columns);
}

}  // namespace

void bind_session(py::module_& module) {
  py::class_<Ranged>(module, "Ranged", "A figure with its 95 % interval over the maximum's spread.")
      .def_readonly("value", &Ranged::value)
      .def_readonly("low", &Ranged::low)
      .def_readonly("high", &Ranged::high)
      .def("__float__", [](const Ranged& r) { return r.value; });
  py::class_<SessionEffort>(module, "SessionEffort", "One session: its time account, phases, recovery, load.")
      .def_readonly("effort", &SessionEffort::effort)
      .def_readonly("mean_reserve_percent", &SessionEffort::mean_reserve_percent)
      .def_readonly("in_target_s", &SessionEffort::in_target_s)
      .def_readonly("moderate_or_harder_s", &SessionEffort::moderate_or_harder_s)
      .def_readonly("weighted_minutes", &SessionEffort::weighted_minutes, "Edwards 1993")
      .def_readonly("impulse_men", &SessionEffort::impulse_men, "Morton et al. 1990")
      .def_readonly("impulse_women", &SessionEffort::impulse_women)
      .def_property_readonly(
          "first_minute_fall_bpm",
          [](const SessionEffort& s) { return s.recovery ? number_of(s.recovery->first_minute_fall) : std::nullopt; })
      .def_property_readonly(
          "prompts",
          [](const SessionEffort& s) {
            std::vector<std::pair<std::string, std::string>> prompts;
            for (const Warning& p : s.prompts) prompts.emplace_back(p.code, p.message);
            return prompts;
          },
          "(code, message): things to look at and talk about, never a diagnosis")
      .def_property_readonly("reasons", &reasons_of<SessionEffort>)
      .def("phases_to_pandas", &phases_table, "A row a phase; a time constant only where the fit deserves it")
      .def("course_to_pandas", &course_table, "A row a cell of the time account; NaN where nothing was measured")
      .def("to_text", &session_text)
      .def(
          "to_dict", [](const SessionEffort& s) { return parsed(session_json(s)); },
          "Everything under its key of the JSON document, rounded as there.");
  module.def(
      "study_session",
      [](const RateSeries& rates, const Person& person, std::optional<int> exertion, const std::string& activity,
         double peak_window_s) {
        SessionOptions options;
        options.exertion = exertion;
        options.activity = activity;
        options.peak_window = Seconds{peak_window_s};
        return study_session(rates, person, options);
      },
      py::arg("rates"), py::arg("person"), py::kw_only(), py::arg("exertion") = py::none(), py::arg("activity") = "",
      py::arg("peak_window_s") = 30.0, py::call_guard<py::gil_scoped_release>(),
      "Phases found from the rate, kinetics, recovery and load of one session. exertion: as it felt, 6 to 20.");
}

}  // namespace pulsewright::python
