/// Keeps account of unreadable time while samples stream in.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Stretches in which every channel is missing or stands still, found sample by sample.
class MissingRuns {
 public:
  MissingRuns(Hertz rate, std::size_t channels);
  /// The same number of raw samples of every channel.
  void push(std::span<const std::span<const float>> chunk);
  /// The stretches so far, a still open one included.
  [[nodiscard]] std::vector<Span> spans() const;

 private:
  struct Watch {
    float last = 0;
    bool seen = false;
    std::int64_t still = 0;    // samples for which the value has not changed
    std::int64_t missing = 0;  // missing samples in a row
  };
  [[nodiscard]] std::int64_t dark_for(const Watch& watch) const;
  void close(std::int64_t end);

  Hertz rate_;
  std::vector<Watch> watches_;
  std::vector<Span> closed_;
  std::int64_t at_ = 0;
  std::int64_t dark_since_ = -1;
};

}  // namespace pulsewright::beats_stage
