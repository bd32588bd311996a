#include "output_target.hpp"

#include <fmt/format.h>

#include <fstream>
#include <string>

#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;

void check_output_target(std::string_view option, const fs::path& file, std::string_view begins,
                         std::string_view kind) {
  std::error_code failure;
  const fs::file_status status = fs::status(file, failure);
  if (file.empty() || !fs::exists(status)) return;
  if (fs::is_directory(status))
    throw Error(ErrorCode::usage, fmt::format("{}: {} is a folder; name a file in it", option, file.string()));
  if (is_device_or_pipe(file))
    throw Error(ErrorCode::usage, fmt::format("{}: {} is a device or a pipe; name a file", option, file.string()));
  std::string start(begins.size(), '\0');
  std::ifstream in(file, std::ios::binary);
  in.read(start.data(), static_cast<std::streamsize>(start.size()));
  if (in.gcount() > 0 && start != begins)
    throw Error(ErrorCode::usage, fmt::format("{}: {} is there and is no {}; it is not replaced. Name another file",
                                              option, file.string(), kind));
}

}  // namespace pulsewright::program
