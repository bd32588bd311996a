#include "locked_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "pulsewright/error.hpp"

namespace pulsewright::program {

LockedFile::LockedFile(const char* option, const std::filesystem::path& path) {
  for (;;) {
    descriptor_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NONBLOCK, 0666);
    if (descriptor_ < 0)
      throw Error(ErrorCode::unwritable, path.string() + ": cannot be opened for writing: " + std::strerror(errno));
    struct stat held {
    }, there{};
    if (::fstat(descriptor_, &held) != 0 || !S_ISREG(held.st_mode)) {
      ::close(descriptor_);
      throw Error(ErrorCode::usage,
                  std::string(option) + ": " + path.string() + " is a folder, a device or a pipe; name a file");
    }
    while (::flock(descriptor_, LOCK_EX) != 0)
      if (errno != EINTR) {
        const int failure = errno;
        ::close(descriptor_);
        throw Error(ErrorCode::unwritable, path.string() + ": cannot be locked: " + std::strerror(failure));
      }
    // Whoever held the lock before may have put another file in its place.
    if (::stat(path.c_str(), &there) == 0 && there.st_ino == held.st_ino && there.st_dev == held.st_dev) return;
    ::close(descriptor_);
  }
}

LockedFile::~LockedFile() { ::close(descriptor_); }

}  // namespace pulsewright::program
