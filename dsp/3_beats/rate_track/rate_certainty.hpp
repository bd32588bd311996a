/// How far a rate of the track can be trusted, and between what the truth lies.
#pragma once

#include <span>

#include "anchor_support.hpp"

namespace pulsewright::beats_stage {

/// What is known of one window's rate.
struct RateClues {
  double agreement = 0;      ///< TrackPoint::agreement
  double concentration = 0;  ///< TrackPoint::concentration
  AnchorSupport support;
  bool causal = false;
  bool motion_used = false;
};

struct RateCertainty {
  double confidence = 0;  ///< probability that the rate lies within 5 beats/min of the truth
  double low_bpm = 0;     ///< 95 % interval
  double high_bpm = 0;
};

/// Mass of a posterior over the grid within 5 beats/min of a rate.
[[nodiscard]] double mass_near(std::span<const float> posterior, double bpm);

/// The median of a posterior over the grid, between grid points as if each spread evenly over its cell.
[[nodiscard]] double median_rate(std::span<const float> posterior);

/// The clues become a confidence c by a logistic curve fitted on the development recordings, held down as far as the rate lacks an anchor. The truth is then taken to be distributed as c parts of a double
/// exponential around the rate and 1 - c parts of the posterior mixed evenly with every rate of the grid; the interval is between its 2.5 and 97.5 % points.
[[nodiscard]] RateCertainty certainty_of(double rate_bpm, std::span<const float> posterior, const RateClues& clues);

}  // namespace pulsewright::beats_stage
