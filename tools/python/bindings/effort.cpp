/// Stage 6: how hard the heart worked, against what is known of the person.
#include "pulsewright/effort.hpp"

#include "bindings.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {
namespace {

MaximumSource checked_equation(const std::string& word) {
  if (const auto source = equation_of(word)) return *source;
  std::string known;
  for (const MaximumSource source : all_equations)
    known += (known.empty() ? "" : ", ") + std::string(to_string(source));
  throw Error(ErrorCode::usage, "equation: '" + word + "' is none of " + known);
}

Person person_of(const std::string& code, std::optional<double> age_years, const std::string& sex,
                 std::optional<double> resting_bpm, std::optional<double> maximum_bpm,
                 std::optional<double> ceiling_bpm) {
  Person person;
  person.code = code;
  person.age_years = age_years;
  const std::optional<Sex> known = sex_of(sex);
  if (!known) throw Error(ErrorCode::usage, "sex: '" + sex + "' is none of unstated, female, male");
  person.sex = *known;
  person.resting = unit_of<BeatsPerMinute>(resting_bpm);
  person.measured_maximum = unit_of<BeatsPerMinute>(maximum_bpm);
  person.own_ceiling = unit_of<BeatsPerMinute>(ceiling_bpm);
  return person;
}

double seconds_of(std::int64_t microseconds) { return 1e-6 * static_cast<double>(microseconds); }

std::optional<double> seconds_of(const std::optional<std::int64_t>& microseconds) {
  return microseconds ? std::optional<double>(seconds_of(*microseconds)) : std::nullopt;
}

py::object categories(const Effort& effort) {
  if (!effort.category_us) return py::none();
  py::dict seconds;
  for (int i = 0; i < intensity_count; ++i)
    seconds[to_string(static_cast<Intensity>(i))] = seconds_of((*effort.category_us)[static_cast<std::size_t>(i)]);
  return seconds;
}

}  // namespace

void bind_effort(py::module_& module) {
  py::class_<Person>(module, "Person", "What is known of one person. A code, never a name.")
      .def(py::init(&person_of), py::arg("code") = "", py::kw_only(), py::arg("age_years") = py::none(),
           py::arg("sex") = "unstated", py::arg("resting_bpm") = py::none(), py::arg("maximum_bpm") = py::none(),
           py::arg("ceiling_bpm") = py::none(), "maximum_bpm: measured. ceiling_bpm: a limit set by a professional.")
      .def_readonly("code", &Person::code)
      .def_readonly("age_years", &Person::age_years)
      .def_property_readonly("resting_bpm", [](const Person& p) { return number_of(p.resting); })
      .def_property_readonly("maximum_bpm", [](const Person& p) { return number_of(p.measured_maximum); })
      .def_property_readonly("ceiling_bpm", [](const Person& p) { return number_of(p.own_ceiling); });
  py::class_<TargetZone>(module, "TargetZone", "A band of heart rates to aim for.")
      .def_property_readonly("low_bpm", [](const TargetZone& t) { return t.low.value(); })
      .def_property_readonly("high_bpm", [](const TargetZone& t) { return t.high.value(); })
      .def_readonly("from_reserve", &TargetZone::from_reserve)
      .def_property_readonly("maximum_bpm", [](const TargetZone& t) { return t.maximum.rate.value(); })
      .def_property_readonly("maximum_sd_bpm", [](const TargetZone& t) { return t.maximum.sd_bpm; })
      .def_property_readonly("maximum_source", [](const TargetZone& t) { return describe(t.maximum.source); })
      .def("__repr__", [](const TargetZone& t) {
        return "<TargetZone " + std::to_string(whole_beats(t.low)) + " to " + std::to_string(whole_beats(t.high)) +
               " beats/min>";
      });
  module.def(
      "target",
      [](const Person& person, const std::string& equation, double low_percent, double high_percent) {
        const std::optional<MaximumRate> maximum = maximum_rate(person, checked_equation(equation));
        if (!maximum) throw Error(ErrorCode::usage, "a target needs age_years or maximum_bpm of the person");
        std::optional<RestingRate> resting;
        if (person.resting) resting = RestingRate{*person.resting, RestingSource::given, std::nullopt};
        const TargetZone zone = target_zone(*maximum, resting, low_percent / 100, high_percent / 100);
        return person.own_ceiling ? with_ceiling(zone, *person.own_ceiling) : std::optional<TargetZone>(zone);
      },
      py::arg("person"), py::kw_only(), py::arg("equation") = "fox", py::arg("low_percent") = 60.0,
      py::arg("high_percent") = 85.0,
      "The person's target: by the reserve with a resting rate, else by the maximum. None below the person's own "
      "ceiling.");
  py::class_<Effort>(module, "Effort", "How hard the heart worked.")
      .def_readonly("person", &Effort::person)
      .def_readonly("target", &Effort::target)
      .def_property_readonly("duration_s", [](const Effort& e) { return seconds_of(e.duration_us); })
      .def_property_readonly("unmeasured_s", [](const Effort& e) { return seconds_of(e.unmeasured_us); })
      .def_property_readonly("category_s", &categories, "Seconds in each intensity category, or None")
      .def_property_readonly("below_target_s", [](const Effort& e) { return seconds_of(e.below_target_us); })
      .def_property_readonly("in_target_s", [](const Effort& e) { return seconds_of(e.in_target_us); })
      .def_property_readonly("above_target_s", [](const Effort& e) { return seconds_of(e.above_target_us); })
      .def_property_readonly("mean_hr_bpm", [](const Effort& e) { return number_of(e.mean_rate); })
      .def_property_readonly("peak_hr_bpm", [](const Effort& e) { return number_of(e.peak_rate); })
      .def_readonly("mean_reserve_percent", &Effort::mean_reserve_percent)
      .def_property_readonly("warnings", &warnings_of<Effort>)
      .def("to_json", &effort_json)
      .def(
          "to_dict", [](const Effort& e) { return parsed(effort_json(e)); },
          "Everything under its key of the JSON document, rounded as there.");
  module.def(
      "effort",
      [](const RateSeries& rates, const Person& person, const std::string& equation, double low_percent,
         double high_percent) {
        EffortOptions options;
        options.equation = checked_equation(equation);
        options.low_fraction = low_percent / 100;
        options.high_fraction = high_percent / 100;
        return effort(rates, person, options);
      },
      py::arg("rates"), py::arg("person"), py::kw_only(), py::arg("equation") = "fox", py::arg("low_percent") = 60.0,
      py::arg("high_percent") = 85.0, py::call_guard<py::gil_scoped_release>(),
      "Effort of one session. What was not measured is never counted as effort.");
}

}  // namespace pulsewright::python
