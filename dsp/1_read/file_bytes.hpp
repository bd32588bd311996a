/// All bytes of a file that is read as a whole: headers, lists, annotations.
#pragma once

#include <cstddef>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "input_file.hpp"

namespace pulsewright::reading {

/// The bytes of a file, or of a pipe to its end, in memory; of a pipe at most 1 GiB. Opened and read
/// by the rules of `InputFile`.
class FileBytes {
 public:
  explicit FileBytes(const std::filesystem::path& path, Opening opening = Opening::named);

  [[nodiscard]] std::string_view text() const { return {data_.get(), size_}; }
  [[nodiscard]] std::span<const unsigned char> bytes() const {
    return {reinterpret_cast<const unsigned char*>(data_.get()), size_};
  }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  std::string name_;
  std::unique_ptr<char[]> data_;
  std::size_t size_ = 0;
};

}  // namespace pulsewright::reading
