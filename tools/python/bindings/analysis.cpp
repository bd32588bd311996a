/// All stages at once.
#include "bindings.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {

void bind_analysis(py::module_& module) {
  py::class_<Analysis>(module, "Analysis", "Every stage's result for one recording and one person.")
      .def_readonly("beats", &Analysis::beats)
      .def_readonly("track", &Analysis::track, "The rate track of a pulse recording, else None")
      .def_readonly("intervals", &Analysis::intervals)
      .def_readonly("rates", &Analysis::rates)
      .def_readonly("variability", &Analysis::variability)
      .def_readonly("effort", &Analysis::effort)
      .def("to_json", &analysis_json)
      .def("to_dict", [](const Analysis& a) { return parsed(analysis_json(a)); })
      .def("to_text", &analysis_text, "The page that the program prints.");
  module.def(
      "analyze",
      [](const Recording& recording, const Person& person, const std::vector<std::string>& channels, bool streaming,
         const std::string& options_given) {
        Request request;
        request.channels = channels;
        request.streaming = streaming;
        request.person = person;
        return analyze(recording, with_options(std::move(request), options_given));
      },
      py::arg("recording"), py::arg("person") = Person{}, py::kw_only(),
      py::arg("channels") = std::vector<std::string>{}, py::arg("streaming") = false, py::arg("options") = "{}",
      py::call_guard<py::gil_scoped_release>(),
      "Runs every stage on a recording.\n\n"
      "options: a JSON object, keys as under provenance in the program's documents: kind, motion, window_s, "
      "low_percent ...");
  module.def(
      "analyze_beats", [](const BeatTrain& beats, const Person& person) { return analyze(beats, person); },
      py::arg("beats"), py::arg("person") = Person{}, py::call_guard<py::gil_scoped_release>(),
      "Runs the stages after the beats on beats that are already there.");
  module.def(
      "session_report",
      [](const Recording& recording, const Analysis& analysis, const std::string& language) {
        const std::optional<Language> chosen_language = language_of(language);
        if (!chosen_language) throw Error(ErrorCode::usage, "language: there are no words for '" + language + "'");
        FindOptions options;
        const ChosenSignals chosen = choose_signals(recording, options);
        return session_report({analysis, &recording, &chosen}, *chosen_language);
      },
      py::arg("recording"), py::arg("analysis"), py::kw_only(), py::arg("language") = "en",
      py::call_guard<py::gil_scoped_release>(), "The session as one HTML page that needs nothing else.");
}

}  // namespace pulsewright::python
