/// The file that a live run keeps of one sensor.
#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>

#include "pulsewright/live_recording.hpp"

namespace pulsewright::program {

/// Rows are handed to the system as they come, and it is told once a second to put them on the
/// disk: a program that is killed loses nothing that had come, and a machine that loses its power
/// at most the last second and what the disk itself holds back.
class SensorFile {
 public:
  /// Makes the file, readable by its owner only. Throws Error{usage} when it is there,
  /// Error{unwritable} when it cannot be made.
  SensorFile(std::filesystem::path path, ChannelKind kind, const std::string& code, const std::string& begun);
  ~SensorFile();
  SensorFile(const SensorFile&) = delete;
  SensorFile& operator=(const SensorFile&) = delete;

  void state_rate(Hertz rate);
  void keep(std::span<const TimedSample> samples);
  /// Puts what was written on the disk, when a second has passed since the last time.
  void settle(std::int64_t now_us);
  /// Puts everything on the disk.
  void close();

  /// What went wrong, once: the file ends with the last row that was written whole, and nothing
  /// more is kept. Empty while all is well.
  [[nodiscard]] const std::string& fault() const { return fault_; }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  void write(const std::string& rows);

  std::filesystem::path path_;
  int descriptor_ = -1;
  std::int64_t written_ = 0;  // bytes
  std::int64_t settled_us_ = 0;
  bool unsettled_ = false;
  std::string fault_;
};

}  // namespace pulsewright::program
