#include "file_bytes.hpp"

#include <algorithm>
#include <cstring>

#include "message.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace reading {

namespace {

/// A pipe is read into memory up to here: 1 GiB.
constexpr std::size_t largest_pipe = std::size_t{1} << 30;
constexpr std::size_t first_room = std::size_t{1} << 16;

}  // namespace

FileBytes::FileBytes(const std::filesystem::path& path, Opening opening) {
  InputFile file{path, opening};
  name_ = file.name();
  if (const auto size = file.size()) {
    data_ = std::make_unique_for_overwrite<char[]>(static_cast<std::size_t>(*size));
    size_ = file.read(data_.get(), static_cast<std::size_t>(*size));
    return;
  }
  std::size_t room = first_room;
  data_ = std::make_unique_for_overwrite<char[]>(room);
  while (const std::size_t got = file.read(data_.get() + size_, room - size_)) {
    size_ += got;
    if (size_ > largest_pipe) refuse({name_}, "gives more than 1 GiB; save it to a file and read that");
    if (size_ < room) continue;
    room *= 2;
    auto larger = std::make_unique_for_overwrite<char[]>(room);
    std::memcpy(larger.get(), data_.get(), size_);
    data_ = std::move(larger);
  }
}

}  // namespace reading

std::string bytes_of_file(const std::filesystem::path& path) { return std::string{reading::FileBytes{path}.text()}; }

std::string beginning_of_file(const std::filesystem::path& path, std::size_t most) {
  reading::InputFile file{path, reading::Opening::looked_at};
  std::string bytes(most, '\0');
  bytes.resize(file.read(bytes.data(), most));
  return bytes;
}

void each_block_of_file(const std::filesystem::path& path, const std::function<bool(std::string_view)>& take) {
  constexpr std::size_t block_bytes = std::size_t{1} << 18;
  reading::InputFile file{path, reading::Opening::looked_at};
  std::string block(block_bytes, '\0');
  while (const std::size_t got = file.read(block.data(), block.size()))
    if (!take({block.data(), got})) return;
}

}  // namespace pulsewright
