#include <fcntl.h>
#include <sys/stat.h>
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

/// What a link leads to, there or not; the path itself when it is no link.
std::filesystem::path end_of_links(std::filesystem::path path) {
  constexpr int most_links = 40;  // as the kernel follows
  std::error_code failed;
  for (int i = 0; i < most_links && std::filesystem::is_symlink(std::filesystem::symlink_status(path, failed)); ++i)
    path = path.parent_path() / std::filesystem::read_symlink(path, failed);
  return path;
}

}  // namespace

bool is_device_or_pipe(const std::filesystem::path& path) {
  std::error_code failed;
  const std::filesystem::file_status status = std::filesystem::status(path, failed);
  return std::filesystem::exists(status) && !std::filesystem::is_regular_file(status) &&
         !std::filesystem::is_directory(status);
}

void write_file(const std::filesystem::path& path, std::string_view bytes) {
  if (is_device_or_pipe(path))
    throw Error(ErrorCode::unwritable, path.string() + ": is a device or a pipe, and is not replaced");
  const std::filesystem::path target = end_of_links(path);
  // Written beside its place under another name, then renamed: POSIX rename replaces in one step.
  const std::string temporary = target.string() + "." + std::to_string(::getpid()) + ".part";
  const int descriptor = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0666);
  if (descriptor < 0) refuse(target, "cannot be created", errno);
  struct stat before {};
  if (::stat(target.c_str(), &before) == 0) {
    // The owner is kept where that is allowed, the mode always.
    if (::fchown(descriptor, before.st_uid, before.st_gid) != 0) errno = 0;
    ::fchmod(descriptor, before.st_mode & 07777);
  }
  int failure = write_and_close(descriptor, bytes);
  if (failure == 0 && ::rename(temporary.c_str(), target.c_str()) != 0) failure = errno;
  if (failure != 0) {
    ::unlink(temporary.c_str());
    refuse(target, "cannot be written", failure);
  }
}

void write_in_folder(const std::filesystem::path& folder, const std::string& name, std::string_view bytes) {
  namespace fs = std::filesystem;
  const fs::path file = folder / name;
  std::error_code failed;
  if (fs::is_symlink(fs::symlink_status(file, failed))) {
    const fs::path target = fs::weakly_canonical(end_of_links(file), failed);
    const fs::path within = target.lexically_relative(fs::canonical(folder, failed));
    if (within.empty() || *within.begin() == "..")
      throw Error(ErrorCode::unwritable, file.string() + ": is a link that leads out of the folder, to " +
                                             target.string() + ", which is not written to");
  }
  write_file(file, bytes);
}

}  // namespace pulsewright
