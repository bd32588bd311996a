/// A file that several processes read, change and write back, one at a time.
#pragma once

#include <filesystem>

namespace pulsewright::program {

/// Keeps other processes that do the same out of a file, which is made when it is not there, until it
/// goes. Waits for its turn. The file may be replaced (renamed over) meanwhile; who waited takes the
/// one that is there then.
class LockedFile {
 public:
  /// Throws Error{unwritable} when it can be neither opened nor made, Error{usage} for what is no
  /// regular file.
  LockedFile(const char* option, const std::filesystem::path& path);
  ~LockedFile();
  LockedFile(const LockedFile&) = delete;
  LockedFile& operator=(const LockedFile&) = delete;

 private:
  int descriptor_ = -1;
};

}  // namespace pulsewright::program
