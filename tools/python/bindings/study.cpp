/// Stage 7: rates of a sensor against a reference, record by record and as a study.
#include <algorithm>
#include <cmath>

#include "bindings.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/rate_study.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::python {
namespace {

AlignmentSteps steps_of(const std::string& word) {
  if (word == "none") return AlignmentSteps::none;
  if (word == "offset") return AlignmentSteps::offset;
  if (word == "drift") return AlignmentSteps::offset_and_drift;
  throw Error(ErrorCode::usage, "align: '" + word + "' is none of none, offset, drift");
}

/// As the column of a study takes it, in kg/m2.
constexpr double lowest_bmi = 5, highest_bmi = 300;

/// What either side of a comparison may be: rates, or beats with the rates that they give.
RateSide side_of(const py::object& given, const char* name) {
  if (py::isinstance<RateSeries>(given)) return {given.cast<RateSeries>(), std::nullopt};
  if (py::isinstance<BeatTrain>(given)) {
    const BeatTrain& beats = given.cast<const BeatTrain&>();
    return {rate_over_windows(beats, clean(beats)), beats};
  }
  throw Error(ErrorCode::usage, std::string(name) + ": a RateSeries or a BeatTrain");
}

ComparedRecord compare(const py::object& reference, const py::object& test, RecordFacts facts, const std::string& align,
                       bool any_offset, bool one_clock, std::optional<double> by_clocks_s) {
  StudyRecord record;
  record.facts = std::move(facts);
  record.reference = side_of(reference, "reference");
  record.test = side_of(test, "test");
  record.one_clock = one_clock;
  if (by_clocks_s && !std::isfinite(*by_clocks_s)) throw Error(ErrorCode::usage, "by_clocks_s: must be finite");
  if (by_clocks_s) record.by_clocks = Seconds{*by_clocks_s};
  StudyOptions options;
  options.alignment.steps = steps_of(align);
  options.alignment.only_where_demanded = !any_offset;
  const py::gil_scoped_release release;
  return compare_record(record, options);
}

py::object pairs_table(const RateStudy& study) {
  py::list name, person, condition;
  std::vector<PairedValue> all;
  for (const ComparedRecord& record : study.records) {
    if (record.reached != FlowStage::analysed) continue;
    for (const PairedValue& pair : record.pairs) {
      name.append(record.facts.name);
      person.append(study.people[pair.person]);
      condition.append(record.facts.condition);
      all.push_back(pair);
    }
  }
  py::dict columns;
  columns["name"] = name;
  columns["person"] = person;
  columns["condition"] = condition;
  columns["time_s"] = column_of(all, [](const PairedValue& p) { return p.time.value(); });
  columns["reference_bpm"] = column_of(all, [](const PairedValue& p) { return p.reference; });
  columns["test_bpm"] = column_of(all, [](const PairedValue& p) { return p.test; });
  return table_of(columns);
}

py::object verdict_table(const std::vector<Verdict>& verdicts) {
  py::dict columns;
  columns["rule"] = words_of(verdicts, [](const Verdict& v) { return v.rule; });
  columns["needs"] = words_of(verdicts, [](const Verdict& v) { return v.needs; });
  columns["found"] = words_of(verdicts, [](const Verdict& v) { return v.found; });
  columns["met"] = words_of(verdicts, [](const Verdict& v) { return v.met; });
  return table_of(columns);
}

py::dict figures_dict(const RateStudy& study) {
  py::dict figures;
  for (const FigureFile& figure : study_figures(study)) figures[figure.name.c_str()] = figure.svg;
  return figures;
}

}  // namespace

void bind_study(py::module_& module) {
  py::class_<ComparedRecord>(module, "ComparedRecord", "One recording of a sensor beside its reference.")
      .def_property_readonly("name", [](const ComparedRecord& r) { return r.facts.name; })
      .def_property_readonly(
          "reached", [](const ComparedRecord& r) { return to_string(r.reached); },
          "How far it came: recorded, readable, aligned, analysed")
      .def_readonly("left_out", &ComparedRecord::left_out, "Why it came no further; empty when analysed")
      .def_property_readonly(
          "offset_s", [](const ComparedRecord& r) { return r.alignment.offset.value(); },
          "Test's clock minus reference's")
      .def_property_readonly("drift_ppm", [](const ComparedRecord& r) { return r.alignment.drift_ppm; })
      .def_readonly("bias_bpm", &ComparedRecord::bias)
      .def_readonly("mean_absolute_error_bpm", &ComparedRecord::mean_absolute_error);
  py::class_<RateStudy>(module, "RateStudy", "Compared records put together.")
      .def_readonly("overall", &RateStudy::overall)
      .def_readonly("before", &RateStudy::before, "The same without alignment")
      .def_property_readonly("flow",
                             [](const RateStudy& s) {
                               py::dict flow;
                               flow["recorded"] = s.flow.recorded;
                               flow["readable"] = s.flow.readable;
                               flow["aligned"] = s.flow.aligned;
                               flow["analysed"] = s.flow.analysed;
                               return flow;
                             })
      .def(
          "groups",
          [](const RateStudy& s, const std::string& column) {
            if (std::none_of(s.breakdowns.begin(), s.breakdowns.end(),
                             [&](const Breakdown& b) { return b.by == column; }))
              throw Error(ErrorCode::usage, "by: '" + column + "' is none of condition, device, skin_tone, sex, bmi");
            py::dict groups;
            for (const GroupAgreement& group : s.groups_by(column)) groups[group.name.c_str()] = group.agreement;
            return groups;
          },
          py::arg("by") = "condition", "Agreement by condition, device, skin_tone, sex, or bmi (in groups)")
      .def_property_readonly(
          "verdicts", [](const RateStudy& s) { return verdict_table(s.verdicts); },
          "What published rules of accuracy say: a table rule, needs, found, met")
      .def_property_readonly(
          "checklist", [](const RateStudy& s) { return verdict_table(s.checklist); },
          "What the study itself lacks, as the verdicts")
      .def_property_readonly("warnings", &warnings_of<RateStudy>)
      .def("to_pandas", &pairs_table, "Every analysed pair of windows, a row each")
      .def("to_text", &study_text)
      .def("figures", &figures_dict, "The figures as SVG texts, by name")
      .def(
          "to_dict", [](const RateStudy& s) { return parsed(study_json(s, {})); },
          "Everything under its key of the JSON document, rounded as there.");
  module.def(
      "compare_rates",
      [](const py::object& reference, const py::object& test, std::string name, std::string person,
         std::string condition, std::string device, std::string skin_tone, std::string sex, std::optional<double> bmi,
         const std::string& align, bool any_offset, bool one_clock, std::optional<double> by_clocks_s) {
        if (bmi && !(*bmi >= lowest_bmi && *bmi <= highest_bmi))
          throw Error(ErrorCode::usage, "bmi: a body mass index in kg/m2, from 5 to 300");
        RecordFacts facts{std::move(name),
                          std::move(person),
                          std::move(condition),
                          std::move(device),
                          std::move(skin_tone),
                          std::move(sex),
                          "",
                          bmi};
        return compare(reference, test, std::move(facts), align, any_offset, one_clock, by_clocks_s);
      },
      py::arg("reference"), py::arg("test"), py::kw_only(), py::arg("name") = "", py::arg("person") = "",
      py::arg("condition") = "", py::arg("device") = "", py::arg("skin_tone") = "", py::arg("sex") = "",
      py::arg("bmi") = py::none(), py::arg("align") = "drift", py::arg("any_offset") = false,
      py::arg("one_clock") = false, py::arg("by_clocks_s") = py::none(),
      "A sensor's rates beside a reference's: either side a RateSeries or a BeatTrain. align: none, offset, or "
      "drift; what is found is applied where the data demand it, or always with any_offset. one_clock: both come from "
      "one "
      "recording, and nothing is aligned. by_clocks_s: when the reference began minus when the test began, by the "
      "times "
      "of day of both (clock_start); offsets are looked for from there.");
  module.def(
      "rate_study", [](std::vector<ComparedRecord> records) { return rate_study(std::move(records)); },
      py::arg("records"), py::call_guard<py::gil_scoped_release>(),
      "Records put together; records of one person (the same code) count as one person.");
}

}  // namespace pulsewright::python
