/// What a fuzz target provides.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "pulsewright/error.hpp"

/// The entry point that fuzzers call. A refusal with `Error` is right; any other exception, crash or hang is a fault.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

/// Valid inputs from which the plain driver starts.
std::vector<std::string> seeds();

namespace fuzz {

/// Runs a call that may refuse.
template <class Call>
void may_refuse(Call call) {
  try {
    call();
  } catch (const pulsewright::Error&) {
  }
}

/// A file with a name of its own for this process, overwritten at every input and removed at the end.
class ScratchFile {
 public:
  explicit ScratchFile(const std::string& name) {
    std::string folder = (std::filesystem::temp_directory_path() / "pulsewright-fuzz-XXXXXX").string();
    if (::mkdtemp(folder.data()) == nullptr) std::abort();
    folder_ = folder;
    path_ = folder_ / name;
  }
  ~ScratchFile() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;

  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
  const std::filesystem::path& write(const std::uint8_t* data, std::size_t size) const {
    std::ofstream file{path_, std::ios::binary | std::ios::trunc};
    file.write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size));
    return path_;
  }

 private:
  std::filesystem::path folder_;
  std::filesystem::path path_;
};

}  // namespace fuzz
