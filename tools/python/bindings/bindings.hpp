/// What the bindings of the stages share: how the module is put together, and how C++ memory is shown to Python.
#pragma once

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::python {

namespace py = pybind11;

/// Each adds the types and functions of one stage to the module. Called in this order: types first, then what takes them.
void bind_errors(py::module_& module);
void bind_recording(py::module_& module);
void bind_condition(py::module_& module);
void bind_beats(py::module_& module);
void bind_intervals(py::module_& module);
void bind_rate(py::module_& module);
void bind_breathing(py::module_& module);
void bind_variability(py::module_& module);
void bind_effort(py::module_& module);
void bind_session(py::module_& module);
void bind_agreement(py::module_& module);
void bind_paired(py::module_& module);
void bind_study(py::module_& module);
void bind_simulation(py::module_& module);
void bind_analysis(py::module_& module);
void bind_batch(py::module_& module);

/// Samples as a read-only numpy array on the same memory; `owner` is kept alive by the array.
template <typename T>
py::array_t<T> view_of(const std::vector<T>& values, py::handle owner) {
  py::array_t<T> array(static_cast<py::ssize_t>(values.size()), values.data(), owner);
  array.attr("setflags")(py::arg("write") = false);
  return array;
}

/// One number of each element as a numpy array of doubles; absent ones are NaN, as pandas has it.
template <typename Elements, typename Number>
py::array_t<double> column_of(const Elements& elements, const Number& number) {
  py::array_t<double> column(static_cast<py::ssize_t>(elements.size()));
  auto cells = column.template mutable_unchecked<1>();
  py::ssize_t i = 0;
  for (const auto& element : elements) cells(i++) = number(element);
  return column;
}

/// One word of each element as a list.
template <typename Elements, typename Word>
py::list words_of(const Elements& elements, const Word& word) {
  py::list column;
  for (const auto& element : elements) column.append(word(element));
  return column;
}

/// A pandas table of named columns, in their order. Python without pandas raises its own ImportError.
[[nodiscard]] inline py::object table_of(const py::dict& columns) {
  return py::module_::import("pandas").attr("DataFrame")(columns);
}

/// A JSON document of the library as Python's dictionaries and lists.
[[nodiscard]] inline py::object parsed(const std::string& json) {
  return py::module_::import("json").attr("loads")(json);
}

[[nodiscard]] inline double nan_without(const std::optional<BeatsPerMinute>& rate) {
  return rate ? rate->value() : std::numeric_limits<double>::quiet_NaN();
}

[[nodiscard]] inline std::optional<double> number_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

template <typename Unit>
[[nodiscard]] std::optional<Unit> unit_of(const std::optional<double>& value) {
  return value ? std::optional<Unit>(Unit{*value}) : std::nullopt;
}

/// The warnings of a result as (code, message) pairs.
template <typename Result>
std::vector<std::pair<std::string, std::string>> warnings_of(const Result& result) {
  std::vector<std::pair<std::string, std::string>> pairs;
  for (const auto& warning : result.warnings) pairs.emplace_back(warning.code, warning.message);
  return pairs;
}

/// Why values are absent, by the key of the value.
template <typename Result>
py::dict reasons_of(const Result& result) {
  py::dict reasons;
  for (const auto& reason : result.reasons) reasons[reason.measure.c_str()] = reason.reason;
  return reasons;
}

/// Spans as (start, end) pairs in seconds.
[[nodiscard]] inline std::vector<std::pair<double, double>> pairs_of(const std::vector<Span>& spans) {
  std::vector<std::pair<double, double>> pairs;
  pairs.reserve(spans.size());
  for (const Span& span : spans) pairs.emplace_back(span.start.value(), span.end.value());
  return pairs;
}

}  // namespace pulsewright::python
