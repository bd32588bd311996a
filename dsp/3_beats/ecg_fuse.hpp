/// Several signals of one heart as one track, each weighted by how clearly it shows the beats.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "ecg_track.hpp"

namespace pulsewright {

/// Weights of the signals over time, and their weighted track.
struct EcgFusion {
  EcgTrack fused;  ///< empty when there is only one signal
  std::vector<std::vector<float>>
      weights;  ///< per signal and second; they sum to one, or to zero where no signal shows anything

  /// The track to judge: the only one, or the fused one.
  [[nodiscard]] const EcgTrack& track(std::span<const EcgTrack> tracks) const {
    return tracks.size() == 1 ? tracks[0] : fused;
  }
  /// Weight of a signal at a track sample.
  [[nodiscard]] float weight(std::size_t signal, std::size_t at) const;
  /// The signal with the largest weight over the whole stretch.
  [[nodiscard]] std::size_t clearest() const;
};

/// Tracks must have equal rate and length.
[[nodiscard]] EcgFusion fuse(std::span<const EcgTrack> tracks);

}  // namespace pulsewright
