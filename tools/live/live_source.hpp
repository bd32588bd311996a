/// Where the bytes of a sensor come from: a serial port, standard input, a pipe with a name, a file
/// that grows, or a recording played again.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright::program {

/// What reading gave.
enum class SourceState { data, nothing, ended, away };

/// Never waits; one thread alone reads it.
class LiveSource {
 public:
  virtual ~LiveSource() = default;
  /// To wait on; -1 where there is nothing to wait on, and the source is asked again soon.
  [[nodiscard]] virtual int descriptor() const { return -1; }
  /// Appends what is there. `away`: the plug was pulled, `trouble` says how it showed.
  virtual SourceState read(std::string& bytes, std::vector<float>& samples) = 0;
  /// After `away`: whether it is there again.
  virtual bool reopen() { return false; }
  /// Whether the moment at which bytes come says when samples were taken.
  [[nodiscard]] virtual bool in_real_time() const = 0;
  std::string trouble;
};

/// What the command line says of sources.
struct SourceOptions {
  int baud = 115200;
  std::optional<Seconds> quiet;  ///< a file that has not grown for so long has ended
};

/// Opens `-`, a serial port, a pipe or a file. Throws Error{usage} for a path that is none of
/// these, or a port that another program reads, Error{unreadable} where it cannot be opened.
[[nodiscard]] std::unique_ptr<LiveSource> open_source(const std::string& path, const SourceOptions& options);

/// A recording at `speed` times its own pace; 0 is as fast as it goes. Samples on the grid, no
/// bytes.
[[nodiscard]] std::unique_ptr<LiveSource> open_replay(std::vector<float> samples, Hertz rate, double speed);

}  // namespace pulsewright::program
