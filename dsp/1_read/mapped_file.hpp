/// A file's bytes, mapped into memory rather than read, so that a large file costs only the pages that are looked at.
#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <string_view>

namespace pulsewright::reading {

/// The path that stands for standard input.
inline constexpr const char* standard_input = "-";

/// Read-only bytes of a regular file (mapped) or of a pipe (read to its end, at most 1 GiB); the path `-` is standard input, whatever it is
/// connected to, and in messages goes by that name. Throws Error{unreadable} for a path that
/// does not exist, may not be read, is a folder or a device. The file must not shrink while it is mapped.
class MappedFile {
 public:
  explicit MappedFile(const std::filesystem::path& path);
  ~MappedFile();
  MappedFile(const MappedFile&) = delete;
  MappedFile& operator=(const MappedFile&) = delete;
  MappedFile(MappedFile&& other) noexcept;
  MappedFile& operator=(MappedFile&& other) noexcept;

  [[nodiscard]] std::string_view text() const { return {data_, size_}; }
  [[nodiscard]] std::span<const unsigned char> bytes() const {
    return {reinterpret_cast<const unsigned char*>(data_), size_};
  }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  void keep(const std::string& bytes);
  void release() noexcept;

  std::string name_;
  const char* data_ = nullptr;
  std::size_t size_ = 0;
  bool mapped_ = false;
};

}  // namespace pulsewright::reading
