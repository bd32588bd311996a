#include "samples.hpp"

#include <string_view>

#include "pulsewright/error.hpp"

namespace pulsewright::python {
namespace {

[[noreturn]] void refuse(const std::string& name, const std::string& rule) {
  PyErr_Clear();
  throw Error(ErrorCode::usage, name + " " + rule);
}

}  // namespace

Samples samples_of(py::object given, const std::string& name) {
  if (py::hasattr(given, "mask") && py::hasattr(given, "filled"))
    given = given.attr("astype")("float32").attr("filled")(std::numeric_limits<double>::quiet_NaN());
  const py::array array = py::array::ensure(given);
  if (!array) refuse(name, "are numbers in one dimension");
  constexpr std::string_view numbers = "buifO";  // truth values, whole numbers, numbers, objects that may be some
  if (numbers.find(array.dtype().kind()) == std::string_view::npos)
    refuse(name, "are numbers, not of type " + py::str(array.dtype()).cast<std::string>());
  if (array.ndim() != 1) refuse(name, "have one dimension; these have " + std::to_string(array.ndim()));
  const Samples samples = Samples::ensure(array);
  if (!samples) refuse(name, "are numbers, not of type " + py::str(array.dtype()).cast<std::string>());
  return samples;
}

}  // namespace pulsewright::python
