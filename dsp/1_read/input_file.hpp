/// The door through which every input comes in: what may be opened, and reading it without surprises.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "unpacker.hpp"

namespace pulsewright::reading {

/// The path that stands for standard input.
inline constexpr const char* standard_input = "-";

/// Who named a file, and what is done with it.
enum class Opening {
  named,      ///< by the user: a pipe is read to its end, and what is packed is unpacked
  looked_at,  ///< among others: a pipe is refused, since one without a writer waits for ever
  stored      ///< by another file, as a header does: a pipe is refused, and nothing is unpacked
};

/// A file or a pipe, read from its beginning on. What is packed with gzip or Zstandard is unpacked. Files are read and not mapped into memory, so that
/// one that is cut while it is read is an error like any other.
class InputFile {
 public:
  /// Opens it; the path `-` is standard input, whatever it is connected to, and in messages goes by
  /// that name. Throws Error{unreadable} for a path that does not exist, may not be read, is a
  /// folder or a device, or is a pipe where none is wanted.
  explicit InputFile(const std::filesystem::path& path, Opening opening = Opening::named);
  ~InputFile();
  InputFile(const InputFile&) = delete;
  InputFile& operator=(const InputFile&) = delete;

  /// How messages name it.
  [[nodiscard]] const std::string& name() const { return name_; }
  /// Bytes of the file when it was opened; nothing of a pipe, an empty file, and of what is unpacked as it is read.
  [[nodiscard]] std::optional<std::uint64_t> size() const { return size_; }

  /// Reads on: `most` bytes, or fewer at the end; unpacked ones of a packed file. Throws Error{unreadable} when the file ends before
  /// its size at opening; what was added to it since is not read.
  std::size_t read(char* to, std::size_t most);

 private:
  std::size_t read_stored(char* to, std::size_t most);
  void look_at_mark(Opening opening);

  std::string name_;
  int descriptor_ = -1;
  std::optional<std::uint64_t> size_, packed_size_;
  std::uint64_t done_ = 0;
  std::string mark_;  ///< the first bytes, as far as they were not handed on
  std::unique_ptr<Unpacker> unpacker_;
};

}  // namespace pulsewright::reading
