/// Whether a rate that was followed without a motion channel is the heart's for any other reason than that the path led there.
#pragma once

#include <span>
#include <vector>

namespace pulsewright::beats_stage {

/// Shares of a window's energy in the lines of a rate.
struct RateLines {
  float first = 0;      ///< at the rate
  float overtones = 0;  ///< at two and three times of it
  float between = 0;    ///< at a half and three halves of it, where a pulse has nothing

  RateLines& operator+=(const RateLines& b) {
    first += b.first;
    overtones += b.overtones;
    between += b.between;
    return *this;
  }
};

struct AnchorSupport {
  /// How surely the path leads from, or (whole-file form) to, a window whose lines are clearly those of a pulse, from 0 to 1.
  double anchored = 1.0;
  /// What is left of full confidence without such an anchor.
  double without_anchor = 1.0;
};

/// What is known of one window.
struct AnchorClues {
  double rate_bpm = 0;
  RateLines lines;       ///< over some windows
  double agreement = 0;  ///< TrackPoint::agreement
};

/// `causal`: only what lies before a window counts for it.
[[nodiscard]] std::vector<AnchorSupport> anchor_support(std::span<const AnchorClues> windows, bool causal);

}  // namespace pulsewright::beats_stage
