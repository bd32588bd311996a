/// One thread that reads every source, so that nothing is lost while the rest of the program works,
/// draws or waits for a disk.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "live_source.hpp"

namespace pulsewright::program {

/// What came from a source at one moment.
struct Arrival {
  enum class Kind { data, ended, away, back };
  std::size_t source = 0;
  Kind kind = Kind::data;
  std::int64_t at_us = 0;  ///< on this machine's steady clock, from the start of the thread
  std::string bytes;       ///< of `away` and `ended`: what showed it
  std::vector<float> samples;
};

class InputThread {
 public:
  explicit InputThread(std::vector<std::unique_ptr<LiveSource>> sources);
  /// Stops reading and waits for the thread.
  ~InputThread();
  InputThread(const InputThread&) = delete;
  InputThread& operator=(const InputThread&) = delete;

  /// What came since the last call; waits at most `patience_ms` for something.
  [[nodiscard]] std::vector<Arrival> take(int patience_ms);
  /// Microseconds on the clock of arrivals.
  [[nodiscard]] std::int64_t now_us() const;

 private:
  void work();
  void hand_over(std::vector<Arrival> fresh);

  std::vector<std::unique_ptr<LiveSource>> sources_;
  std::mutex mutex_;
  std::condition_variable arrived_, taken_;
  std::vector<Arrival> waiting_;
  std::size_t waiting_bytes_ = 0;
  bool stop_ = false;
  std::int64_t began_us_;
  std::thread thread_;  // last, so that everything is there when it starts
};

}  // namespace pulsewright::program
