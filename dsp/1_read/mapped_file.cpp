#include "mapped_file.hpp"

#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

#include "message.hpp"

namespace pulsewright::reading {

namespace {

/// A pipe is read into memory up to here: 1 GiB.
constexpr std::size_t largest_pipe = std::size_t{1} << 30;

/// Closes a file descriptor at the end of a scope.
struct Descriptor {
  int fd;
  ~Descriptor() {
    if (fd >= 0) ::close(fd);
  }
};

std::string reason() { return std::generic_category().message(errno); }

std::string read_pipe(int fd, const std::string& name) {
  std::string all;
  char block[65536];
  for (;;) {
    const ssize_t got = ::read(fd, block, sizeof block);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse({name}, "cannot be read: " + reason());
    if (got == 0) return all;
    all.append(block, static_cast<std::size_t>(got));
    if (all.size() > largest_pipe) refuse({name}, "gives more than 1 GiB; save it to a file and read that");
  }
}

}  // namespace

MappedFile::MappedFile(const std::filesystem::path& path) : name_(path.string()) {
  if (path == standard_input) {
    name_ = "standard input";
    keep(read_pipe(STDIN_FILENO, name_));
    return;
  }
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
  if (file.fd < 0) refuse({name_}, "cannot be opened: " + reason());
  struct stat facts {};
  if (::fstat(file.fd, &facts) != 0) refuse({name_}, "cannot be read: " + reason());
  if (S_ISDIR(facts.st_mode)) refuse({name_}, "is a folder; name a file or a record inside it");
  if (S_ISFIFO(facts.st_mode)) {
    keep(read_pipe(file.fd, name_));
    return;
  }
  if (!S_ISREG(facts.st_mode)) refuse({name_}, "is neither a file nor a pipe");
  size_ = static_cast<std::size_t>(facts.st_size);
  if (size_ == 0) return;
  void* where = ::mmap(nullptr, size_, PROT_READ, MAP_PRIVATE, file.fd, 0);
  if (where == MAP_FAILED) refuse({name_}, "cannot be mapped into memory: " + reason());
  data_ = static_cast<const char*>(where);
  mapped_ = true;
}

void MappedFile::keep(const std::string& bytes) {
  char* copy = new char[bytes.size() + 1];
  std::memcpy(copy, bytes.data(), bytes.size());
  data_ = copy;
  size_ = bytes.size();
}

void MappedFile::release() noexcept {
  if (mapped_)
    ::munmap(const_cast<char*>(data_), size_);
  else
    delete[] data_;
  data_ = nullptr;
  size_ = 0;
  mapped_ = false;
}

MappedFile::~MappedFile() { release(); }

MappedFile::MappedFile(MappedFile&& other) noexcept
    : name_(std::move(other.name_)),
      data_(std::exchange(other.data_, nullptr)),
      size_(std::exchange(other.size_, 0)),
      mapped_(std::exchange(other.mapped_, false)) {}

MappedFile& MappedFile::operator=(MappedFile&& other) noexcept {
  if (this != &other) {
    release();
    name_ = std::move(other.name_);
    data_ = std::exchange(other.data_, nullptr);
    size_ = std::exchange(other.size_, 0);
    mapped_ = std::exchange(other.mapped_, false);
  }
  return *this;
}

}  // namespace pulsewright::reading
