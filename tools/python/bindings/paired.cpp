/// Stage 7: pairs of one quantity measured two ways -> how well the two agree.
#include "pulsewright/paired_agreement.hpp"

#include <algorithm>
#include <cmath>

#include "bindings.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright::python {
namespace {

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;

/// A number for each pair: who or what each label means does not matter, only which are the same.
std::vector<std::size_t> groups_of(const std::optional<std::vector<std::string>>& labels, std::size_t pairs,
                                   const char* name) {
  if (!labels) return std::vector<std::size_t>(pairs, 0);
  if (labels->size() != pairs)
    throw Error(ErrorCode::usage, std::string(name) + ": one label for each pair; there are " + std::to_string(pairs));
  std::vector<std::string> known;
  std::vector<std::size_t> groups;
  groups.reserve(pairs);
  for (const std::string& label : *labels) {
    std::size_t at = 0;
    while (at < known.size() && known[at] != label) ++at;
    if (at == known.size()) known.push_back(label);
    groups.push_back(at);
  }
  return groups;
}

std::vector<PairedValue> pairs_of_arrays(const Numbers& reference, const Numbers& test,
                                         const std::optional<std::vector<std::string>>& person) {
  if (reference.ndim() != 1 || test.ndim() != 1 || reference.size() != test.size())
    throw Error(ErrorCode::usage, "reference and test: two arrays of one dimension and the same length");
  const auto count = static_cast<std::size_t>(reference.size());
  const std::vector<std::size_t> people = groups_of(person, count, "person");
  std::vector<PairedValue> pairs(count);
  for (std::size_t i = 0; i < count; ++i) {
    pairs[i].reference = reference.data()[i];
    pairs[i].test = test.data()[i];
    // Without labels every pair is somebody else's.
    pairs[i].person = person ? people[i] : i;
  }
  return pairs;
}

void bind_results(py::module_& module) {
  py::class_<Estimate>(module, "Estimate", "A value with its 95 % interval; None where there is none.")
      .def_readonly("value", &Estimate::value)
      .def_readonly("low", &Estimate::low)
      .def_readonly("high", &Estimate::high)
      .def("__float__", [](const Estimate& e) { return e.value; })
      .def("__repr__", [](const Estimate& e) {
        const auto text = [](double value) { return py::str("{:.4g}").format(value).cast<std::string>(); };
        std::string all = text(e.value);
        if (e.low && e.high) all += " (" + text(*e.low) + " to " + text(*e.high) + ")";
        return all;
      });
  py::class_<LimitsOfAgreement>(module, "LimitsOfAgreement", "Bias and limits of agreement.")
      .def_readonly("bias", &LimitsOfAgreement::bias)
      .def_readonly("sd", &LimitsOfAgreement::sd)
      .def_readonly("lower", &LimitsOfAgreement::lower)
      .def_readonly("upper", &LimitsOfAgreement::upper);
  py::class_<Equivalence>(module, "Equivalence", "Two one-sided tests of the bias against a margin.")
      .def_readonly("margin", &Equivalence::margin)
      .def_readonly("bias", &Equivalence::bias, "With its 90 % interval, which the test uses")
      .def_readonly("p", &Equivalence::p)
      .def_readonly("equivalent", &Equivalence::equivalent);
  py::class_<PairedAgreement>(module, "PairedAgreement",
                              "Agreement of pairs; None for what they cannot give, with why under reasons.")
      .def_readonly("pairs", &PairedAgreement::pairs)
      .def_readonly("people", &PairedAgreement::people)
      .def_readonly("plain_limits", &PairedAgreement::plain, "As if all pairs were independent")
      .def_property_readonly(
          "repeated_limits",
          [](const PairedAgreement& a) {
            return a.repeated ? std::optional<LimitsOfAgreement>(a.repeated->limits) : std::nullopt;
          },
          "For several pairs a person (Bland & Altman 2007)")
      .def_readonly("bias", &PairedAgreement::bias)
      .def_readonly("mean_absolute_error", &PairedAgreement::mean_absolute_error)
      .def_readonly("mean_absolute_percentage_error", &PairedAgreement::mean_absolute_percentage_error)
      .def_readonly("root_mean_square_error", &PairedAgreement::root_mean_square_error)
      .def_readonly("within_5_percent", &PairedAgreement::within_5_percent)
      .def_readonly("within_10_percent", &PairedAgreement::within_10_percent)
      .def_readonly("correlation", &PairedAgreement::correlation, "Pearson's r: it does not tell agreement")
      .def_readonly("concordance", &PairedAgreement::concordance_population, "Lin's, with moments divided by n")
      .def_readonly("trend_slope", &PairedAgreement::trend_slope, "Of the differences on the means")
      .def_readonly("equivalence", &PairedAgreement::equivalence)
      .def_property_readonly("reasons", &reasons_of<PairedAgreement>);
}

}  // namespace

void bind_paired(py::module_& module) {
  bind_results(module);
  module.def(
      "paired_agreement",
      [](const Numbers& reference, const Numbers& test, const std::optional<std::vector<std::string>>& person,
         double margin, std::uint64_t seed, std::size_t resamples) {
        const std::vector<PairedValue> pairs = pairs_of_arrays(reference, test, person);
        if (!(margin > 0)) throw Error(ErrorCode::usage, "margin: more than 0");
        const py::gil_scoped_release release;
        return paired_agreement(pairs, {margin, seed, resamples});
      },
      py::arg("reference"), py::arg("test"), py::kw_only(), py::arg("person") = py::none(), py::arg("margin") = 5.0,
      py::arg("seed") = 1, py::arg("resamples") = 2000,
      "How well test agrees with reference: arrays of n values of one unit. person: n labels, where people gave "
      "several pairs each; without them every pair is somebody else's. margin: of the equivalence test. seed, "
      "resamples: of the bootstrap over people, which needs at least five.");
  module.def(
      "limits_of_agreement",
      [](const std::vector<double>& differences) {
        if (!std::all_of(differences.begin(), differences.end(), [](double d) { return std::isfinite(d); }))
          throw Error(ErrorCode::usage, "differences: every one is finite; leave out what is missing");
        return limits_of_agreement(differences);
      },
      py::arg("differences"), "Limits of independent differences, with exact intervals; None for fewer than two.");
  module.def(
      "plan_limits",
      [](double sd, double half_width) {
        if (!(sd > 0) || !(half_width > 0)) throw Error(ErrorCode::usage, "sd and half_width: more than 0");
        return plan_limits(sd, half_width).needed;
      },
      py::arg("sd"), py::arg("half_width"),
      "How many independent differences make the 95 % interval of a limit no wider than half_width to either side.");
}

}  // namespace pulsewright::python
