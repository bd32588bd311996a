/// Errors of the library as exceptions with the same messages: one class a code, all of them pulsewright.Error.
#include "pulsewright/error.hpp"

#include "bindings.hpp"

namespace pulsewright::python {
namespace {

/// The classes live as long as the interpreter.
struct ErrorClasses {
  py::object base, usage, unreadable, unwritable, contract;
};

ErrorClasses& classes() {
  static ErrorClasses* all = new ErrorClasses;  // never freed: exceptions may come while the interpreter ends
  return *all;
}

py::object add_class(py::module_& module, const char* name, const py::object& bases, const char* meaning) {
  const py::object made = py::reinterpret_steal<py::object>(
      PyErr_NewExceptionWithDoc(("pulsewright." + std::string(name)).c_str(), meaning, bases.ptr(), nullptr));
  module.attr(name) = made;
  return made;
}

const py::object& class_of(ErrorCode code) {
  switch (code) {
    case ErrorCode::usage: return classes().usage;
    case ErrorCode::unreadable: return classes().unreadable;
    case ErrorCode::unwritable: return classes().unwritable;
    case ErrorCode::contract: return classes().contract;
  }
  return classes().base;
}

}  // namespace

void bind_errors(py::module_& module) {
  ErrorClasses& all = classes();
  const auto builtin = [](PyObject* type) { return py::reinterpret_borrow<py::object>(type); };
  all.base =
      add_class(module, "Error", builtin(PyExc_Exception), "What pulsewright refuses. str() is the whole message.");
  all.usage = add_class(module, "UsageError", py::make_tuple(all.base, builtin(PyExc_ValueError)),
                        "A request that contradicts itself or names something that is not there.");
  all.unreadable = add_class(module, "UnreadableError", py::make_tuple(all.base, builtin(PyExc_OSError)),
                             "A file that is missing, damaged, or not in any known format.");
  all.unwritable = add_class(module, "UnwritableError", py::make_tuple(all.base, builtin(PyExc_OSError)),
                             "An output that could not be written completely.");
  all.contract = add_class(module, "ContractError", py::make_tuple(all.base, builtin(PyExc_ValueError)),
                           "Values that a function's description rules out.");
  py::register_exception_translator([](std::exception_ptr thrown) {
    try {
      if (thrown) std::rethrow_exception(thrown);
    } catch (const Error& error) {
      PyErr_SetString(class_of(error.code()).ptr(), error.what());
    }
  });
}

}  // namespace pulsewright::python
