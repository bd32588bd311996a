/// One record of a batch, for batches spread over many machines.
#include "pulsewright/batch.hpp"

#include "bindings.hpp"

namespace pulsewright::python {

void bind_batch(py::module_& module) {
  module.def(
      "work_on",
      [](const std::string& path, const std::string& file, const std::string& options) {
        Request request;
        request.input = path;
        try {
          request = with_options(std::move(request), options);
        } catch (const Error& error) {
          return line_of_row(failed_row(file, usage_code, error.what()));
        }
        return line_of_row(work_on(request, file));
      },
      py::arg("path"), py::arg("file"), py::arg("options") = "{}", py::call_guard<py::gil_scoped_release>(),
      "Analyses one record; gives its row of the batch as a line of JSON, the same bytes as the program's journal. A "
      "failure is a row too.\n\n"
      "file: what the row calls it. options: a JSON object, keys as under provenance in the program's documents.");
}

}  // namespace pulsewright::python
