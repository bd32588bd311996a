#include "input_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <utility>

#include "message.hpp"

namespace pulsewright::reading {

namespace {

std::string reason() { return std::generic_category().message(errno); }

}  // namespace

InputFile::InputFile(const std::filesystem::path& path, Opening opening) : name_(path.string()) {
  if (path == standard_input) {
    name_ = "standard input";
    descriptor_ = STDIN_FILENO;
    look_at_mark(opening);
    return;
  }
  // Asked before opening, since opening a pipe waits for its writer and opening a device may do anything.
  struct stat facts {};
  if (::stat(path.c_str(), &facts) != 0) refuse({name_}, "cannot be opened: " + reason());
  if (S_ISDIR(facts.st_mode)) refuse({name_}, "is a folder; name a file or a record inside it");
  if (S_ISFIFO(facts.st_mode) && opening != Opening::named)
    refuse({name_}, "is a pipe, and only a pipe that is named itself is read");
  if (!S_ISREG(facts.st_mode) && !S_ISFIFO(facts.st_mode)) refuse({name_}, "is neither a file nor a pipe");
  descriptor_ = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor_ < 0) refuse({name_}, "cannot be opened: " + reason());
  if (::fstat(descriptor_, &facts) != 0 || (!S_ISREG(facts.st_mode) && !S_ISFIFO(facts.st_mode))) {
    ::close(descriptor_);
    refuse({name_}, "was replaced while it was opened");
  }
  // What the kernel makes up as it is read has no length.
  if (S_ISREG(facts.st_mode) && facts.st_size > 0) size_ = static_cast<std::uint64_t>(facts.st_size);
  try {
    look_at_mark(opening);
  } catch (...) {
    ::close(descriptor_);
    throw;
  }
}

void InputFile::look_at_mark(Opening opening) {
  if (opening == Opening::stored) return;
  std::string mark(packed_mark_bytes, '\0');
  mark.resize(read_stored(mark.data(), mark.size()));
  mark_ = mark;
  unpacker_ = unpacker_for(
      mark, [this](char* to, std::size_t most) { return read_stored(to, most); }, name_);
  if (unpacker_) packed_size_ = std::exchange(size_, std::nullopt);
}

std::size_t InputFile::read(char* to, std::size_t most) {
  return unpacker_ ? unpacker_->read(to, most) : read_stored(to, most);
}

InputFile::~InputFile() {
  if (descriptor_ > STDIN_FILENO) ::close(descriptor_);
}

std::size_t InputFile::read_stored(char* to, std::size_t most) {
  std::size_t all = std::min(most, mark_.size());
  std::copy_n(mark_.begin(), all, to);
  mark_.erase(0, all);
  const std::size_t from_mark = all;
  const std::optional<std::uint64_t> size = unpacker_ ? packed_size_ : size_;
  if (size) most = static_cast<std::size_t>(std::min<std::uint64_t>(most, from_mark + *size - done_));
  while (all < most) {
    const ssize_t got = ::read(descriptor_, to + all, most - all);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse({name_}, "cannot be read: " + reason());
    if (got == 0) break;
    all += static_cast<std::size_t>(got);
  }
  done_ += all - from_mark;
  if (size && all < most)
    refuse({name_}, fmt::format("ends after {} of {} bytes: it was cut while it was read", done_, *size));
  return all;
}

}  // namespace pulsewright::reading
