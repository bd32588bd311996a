/// Where tests of the reading stage find open recordings and put files of their own.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <string_view>

namespace read_tests {

/// The folder of a data set under PULSEWRIGHT_DATA, or beside the source tree; nothing when it is not there.
inline std::optional<std::filesystem::path> open_data(const std::string& set) {
  const char* stated = std::getenv("PULSEWRIGHT_DATA");
  const std::filesystem::path root = stated != nullptr && *stated != '\0'
                                         ? std::filesystem::path{stated}
                                         : std::filesystem::path{PULSEWRIGHT_SOURCE_DIR} / "../shared/datasets";
  std::error_code ignored;
  if (!std::filesystem::is_directory(root / set, ignored)) return std::nullopt;
  return root / set;
}

/// A folder that is empty at first and removed at the end.
class ScratchFolder {
 public:
  ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "pulsewright-read-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    path_ = name;
  }
  ~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  /// Writes a file and gives its path.
  std::filesystem::path write(const std::string& name, std::string_view bytes) const {
    std::ofstream file{path_ / name, std::ios::binary};
    file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return path_ / name;
  }

 private:
  std::filesystem::path path_;
};

}  // namespace read_tests
