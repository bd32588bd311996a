#include "file_beginning.hpp"

#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright::program {

std::string file_beginning(const std::filesystem::path& file, std::size_t most) {
  try {
    return beginning_of_file(file, most);
  } catch (const Error&) {
    return {};
  }
}

}  // namespace pulsewright::program
