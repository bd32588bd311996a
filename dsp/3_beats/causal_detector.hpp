/// What the streaming detectors of the two waves have in common.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// Takes conditioned samples, decides beats with a fixed look-ahead. Times count from the first sample.
class CausalDetector {
 public:
  virtual ~CausalDetector() = default;
  /// Appends the conditioned samples of every channel and, at fixed sample counts, the candidates that are now decided.
  virtual void push(std::span<const std::vector<float>> conditioned, std::vector<Beat>& out) = 0;
  /// Decides the rest.
  virtual void finish(std::vector<Beat>& out) = 0;
  [[nodiscard]] virtual Seconds look_ahead() const = 0;
  /// The detector works through its input in blocks of this many samples; BeatStream never pushes across the end of a block.
  [[nodiscard]] virtual std::size_t block() const = 0;
};

[[nodiscard]] std::unique_ptr<CausalDetector> make_ecg_detector(Hertz rate, std::size_t channels,
                                                                const EcgOptions& options);
[[nodiscard]] std::unique_ptr<CausalDetector> make_pulse_detector(Hertz rate, std::size_t channels,
                                                                  const PulseOptions& options);

}  // namespace pulsewright::beats_stage
