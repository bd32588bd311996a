/// Numbers from Python as the library takes them: what has no meaning as samples is refused, and what is masked was not recorded.
#pragma once

#include <string>

#include "bindings.hpp"

namespace pulsewright::python {

/// float32 in one piece; arrays that already are so are read where they lie.
using Samples = py::array_t<float, py::array::c_style | py::array::forcecast>;

/// What is given as samples, named `name` where it is refused: numbers in one dimension. Masked values and None become NaN. Throws Error{usage}.
[[nodiscard]] Samples samples_of(py::object given, const std::string& name);

}  // namespace pulsewright::python
