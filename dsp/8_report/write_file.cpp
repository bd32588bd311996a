#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

[[noreturn]] void refuse(const std::filesystem::path& path, const char* what, int failure) {
  throw Error(ErrorCode::unwritable, path.string() + ": " + what + ": " + std::strerror(failure));
}

/// Writes all bytes and closes the descriptor. Returns 0, or the errno that stopped it.
int write_and_close(int descriptor, std::string_view bytes) {
  int failure = 0;
  while (!bytes.empty() && failure == 0) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written >= 0)
      bytes.remove_prefix(static_cast<std::size_t>(written));
    else if (errno != EINTR)
      failure = errno;
  }
  if (failure == 0 && ::fsync(descriptor) != 0 && errno != EINVAL) failure = errno;
  if (::close(descriptor) != 0 && failure == 0) failure = errno;
  return failure;
}

}  // namespace

bool is_device_or_pipe(const std::filesystem::path& path) {
  std::error_code failed;
  const std::filesystem::file_status status = std::filesystem::status(path, failed);
  return std::filesystem::exists(status) && !std::filesystem::is_regular_file(status) &&
         !std::filesystem::is_directory(status);
}

void write_file(const std::filesystem::path& path, std::string_view bytes) {
  std::error_code failed;
  if (is_device_or_pipe(path))
    throw Error(ErrorCode::unwritable, path.string() + ": is a device or a pipe, and is not replaced");
  // A link stays, and what it leads to is replaced.
  std::filesystem::path target = path;
  if (std::filesystem::is_symlink(std::filesystem::symlink_status(path, failed)))
    target = std::filesystem::weakly_canonical(path, failed);
  // Written beside its place under another name, then renamed: POSIX rename replaces in one step.
  const std::string temporary = target.string() + "." + std::to_string(::getpid()) + ".part";
  const int descriptor = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0666);
  if (descriptor < 0) refuse(target, "cannot be created", errno);
  int failure = write_and_close(descriptor, bytes);
  if (failure == 0 && ::rename(temporary.c_str(), target.c_str()) != 0) failure = errno;
  if (failure != 0) {
    ::unlink(temporary.c_str());
    refuse(target, "cannot be written", failure);
  }
}

}  // namespace pulsewright
