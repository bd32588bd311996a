#include "sensor_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

constexpr std::int64_t settle_every_us = 1'000'000;

}  // namespace

SensorFile::SensorFile(std::filesystem::path path, ChannelKind kind, const std::string& code, const std::string& begun)
    : path_(std::move(path)) {
  descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, 0600);
  if (descriptor_ < 0 && errno == EEXIST)
    throw Error(ErrorCode::usage,
                path_.string() + ": is there already; a live run adds to no recording. Name another folder");
  if (descriptor_ < 0) throw Error(ErrorCode::unwritable, path_.string() + ": cannot be made: " + std::strerror(errno));
  write(live_recording_header(kind, code, begun));
}

SensorFile::~SensorFile() { close(); }

void SensorFile::write(const std::string& rows) {
  if (descriptor_ < 0) return;
  std::size_t at = 0;
  while (at < rows.size()) {
    const ssize_t count = ::write(descriptor_, rows.data() + at, rows.size() - at);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) {
      fault_ = path_.string() + ": cannot be written any more: " + std::strerror(errno) +
               "; what was written until now is kept, and the run goes on without recording";
      // A row that was cut in two goes.
      if (::ftruncate(descriptor_, written_) != 0) fault_ += " (its last row may be cut off)";
      close();
      return;
    }
    at += static_cast<std::size_t>(count);
  }
  written_ += static_cast<std::int64_t>(rows.size());
  unsettled_ = true;
}

void SensorFile::state_rate(Hertz rate) { write(live_recording_rate(rate)); }

void SensorFile::keep(std::span<const TimedSample> samples) {
  std::string rows;
  for (const TimedSample& sample : samples) rows += live_recording_row(sample);
  write(rows);
}

void SensorFile::settle(std::int64_t now_us) {
  if (descriptor_ < 0 || !unsettled_ || now_us - settled_us_ < settle_every_us) return;
  ::fdatasync(descriptor_);
  unsettled_ = false;
  settled_us_ = now_us;
}

void SensorFile::close() {
  if (descriptor_ < 0) return;
  ::fdatasync(descriptor_);
  ::close(descriptor_);
  descriptor_ = -1;
}

}  // namespace pulsewright::program
