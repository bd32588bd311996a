#include "live_source.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstring>

#include "pulsewright/error.hpp"
#include "serial_source.hpp"

namespace pulsewright::program {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

/// Standard input or a pipe with a name: its end is the end.
class PipeSource final : public LiveSource {
 public:
  PipeSource(int descriptor, bool in_real_time) : descriptor_(descriptor), in_real_time_(in_real_time) {}
  ~PipeSource() override {
    if (descriptor_ != STDIN_FILENO) ::close(descriptor_);
  }
  PipeSource(const PipeSource&) = delete;
  PipeSource& operator=(const PipeSource&) = delete;

  [[nodiscard]] int descriptor() const override { return descriptor_; }

  SourceState read(std::string& bytes, std::vector<float>&) override {
    std::array<char, 65536> buffer{};
    const ssize_t count = ::read(descriptor_, buffer.data(), buffer.size());
    if (count > 0) {
      bytes.append(buffer.data(), static_cast<std::size_t>(count));
      any_ = true;
      return SourceState::data;
    }
    if (count < 0 && (errno == EAGAIN || errno == EINTR)) return SourceState::nothing;
    // A named pipe that nobody has opened for writing yet has not ended.
    if (count == 0 && !any_ && descriptor_ != STDIN_FILENO) return SourceState::nothing;
    if (count < 0) trouble = std::strerror(errno);
    return SourceState::ended;
  }

  [[nodiscard]] bool in_real_time() const override { return in_real_time_; }

 private:
  int descriptor_;
  bool in_real_time_;
  bool any_ = false;
};

/// A file that another program writes.
class GrowingFile final : public LiveSource {
 public:
  GrowingFile(int descriptor, std::optional<Seconds> quiet) : descriptor_(descriptor), quiet_(quiet) {}
  ~GrowingFile() override { ::close(descriptor_); }
  GrowingFile(const GrowingFile&) = delete;
  GrowingFile& operator=(const GrowingFile&) = delete;

  SourceState read(std::string& bytes, std::vector<float>&) override {
    std::array<char, 65536> buffer{};
    const ssize_t count = ::read(descriptor_, buffer.data(), buffer.size());
    if (count > 0) {
      bytes.append(buffer.data(), static_cast<std::size_t>(count));
      grown_ = Clock::now();
      return SourceState::data;
    }
    if (count < 0 && errno != EINTR) {
      trouble = std::strerror(errno);
      return SourceState::ended;
    }
    return quiet_ && seconds_since(grown_) > quiet_->value() ? SourceState::ended : SourceState::nothing;
  }

  [[nodiscard]] bool in_real_time() const override { return false; }

 private:
  int descriptor_;
  std::optional<Seconds> quiet_;
  Clock::time_point grown_ = Clock::now();
};

class Replay final : public LiveSource {
 public:
  Replay(std::vector<float> samples, Hertz rate, double speed)
      : samples_(std::move(samples)), rate_(rate), speed_(speed) {}

  SourceState read(std::string&, std::vector<float>& samples) override {
    if (at_ == samples_.size()) return SourceState::ended;
    std::size_t until = std::min(samples_.size(), at_ + static_cast<std::size_t>(most_at_once));
    if (speed_ > 0) {
      const double due = seconds_since(start_) * speed_ * rate_.value();
      until = std::min(until, static_cast<std::size_t>(due));
    }
    if (until <= at_) return SourceState::nothing;
    samples.insert(samples.end(), samples_.begin() + static_cast<std::ptrdiff_t>(at_),
                   samples_.begin() + static_cast<std::ptrdiff_t>(until));
    at_ = until;
    return SourceState::data;
  }

  [[nodiscard]] bool in_real_time() const override { return false; }

 private:
  static constexpr int most_at_once = 4096;
  std::vector<float> samples_;
  Hertz rate_;
  double speed_;
  std::size_t at_ = 0;
  Clock::time_point start_ = Clock::now();
};

}  // namespace

std::unique_ptr<LiveSource> open_source(const std::string& path, const SourceOptions& options) {
  if (path == "-") {
    ::fcntl(STDIN_FILENO, F_SETFL, ::fcntl(STDIN_FILENO, F_GETFL) | O_NONBLOCK);
    return std::make_unique<PipeSource>(STDIN_FILENO, false);
  }
  struct stat about {};
  if (::stat(path.c_str(), &about) != 0)
    throw Error(ErrorCode::unreadable, path + ": cannot be opened: " + std::strerror(errno) +
                                           (path.starts_with("/dev/") ? "; is the sensor plugged in?" : ""));
  if (S_ISCHR(about.st_mode)) return open_serial(path, options.baud);
  if (!S_ISFIFO(about.st_mode) && !S_ISREG(about.st_mode))
    throw Error(ErrorCode::usage, path + ": is neither a serial port nor a pipe nor a file");
  const int descriptor = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  if (descriptor < 0) throw Error(ErrorCode::unreadable, path + ": cannot be opened: " + std::strerror(errno));
  if (S_ISFIFO(about.st_mode)) return std::make_unique<PipeSource>(descriptor, true);
  return std::make_unique<GrowingFile>(descriptor, options.quiet);
}

std::unique_ptr<LiveSource> open_replay(std::vector<float> samples, Hertz rate, double speed) {
  return std::make_unique<Replay>(std::move(samples), rate, speed);
}

}  // namespace pulsewright::program
