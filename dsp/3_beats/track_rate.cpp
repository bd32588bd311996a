#include <algorithm>
#include <cmath>
#include <string>

#include "pulsewright/rate_track.hpp"
#include "rate_certainty.hpp"
#include "rate_evidence.hpp"
#include "rate_path.hpp"
#include "rate_signals.hpp"

namespace pulsewright {

using namespace beats_stage;
namespace {

/// The causal form waits for this many windows more.
constexpr std::size_t causal_steps_ahead = 2;
/// Power at this distance belongs to a line: about the half width of the window's main lobe.
constexpr double line_half_width_bpm = 8.0;
/// Agreement and concentration are averaged over this many windows to either side.
constexpr std::size_t clue_reach = 5;
/// Agreement is held between these, so that its log-odds stay finite.
constexpr double least_agreement = 0.01, most_agreement = 0.9999;
/// Two lines closer than this cannot be told apart in 8 s.
constexpr double same_line_bpm = 4.0;

/// Share of the weights within a line's width of the rate.
double concentration_at(const RateWeights& weights, double bpm) {
  double near = 0.0, all = 0.0;
  for (std::size_t i = 0; i < grid_size; ++i) {
    const double w = static_cast<double>(weights[i]);
    all += w;
    if (std::abs(grid_bpm(i) - bpm) <= line_half_width_bpm) near += w;
  }
  return near / all;
}

bool coincide(double rate, double cadence) {
  return std::min({std::abs(rate - cadence), std::abs(rate - 2.0 * cadence), std::abs(rate - 0.5 * cadence)}) <=
         same_line_bpm;
}

}  // namespace

RateTrack track_rate(const Recording& recording, const TrackOptions& options) {
  RateTrack track;
  track.duration = recording.duration;
  track.provenance = recording.provenance;
  track.provenance.version = version();
  const RateSignals signals = gather_rate_signals(recording, options);
  if (signals.pulse.empty()) {
    track.warnings.push_back(
        {"too_slow_to_track", "pulse sampled below 16 Hz: the rate cannot be followed in its spectrum"});
    return track;
  }
  track.motion_used = !signals.acceleration.empty() || !signals.rotation.empty();
  if (options.streaming) track.delay = static_cast<double>(causal_steps_ahead) * track_step + motion_filter_reach;

  SpectralView view{signals, options.streaming};
  std::vector<RateWeights> windows;
  std::vector<bool> readable;
  for (std::size_t k = 0;; ++k) {
    const Span window{static_cast<double>(k) * track_step, static_cast<double>(k) * track_step + track_window};
    const double first = std::round(samples_in(window.start - signals.start, signals.rate));
    // A window may overhang the signal by a sample: the grid is coarser than the recording.
    if (window.end > recording.duration + period(signals.rate)) break;
    const double last_first = static_cast<double>(signals.size()) - static_cast<double>(view.window());
    TrackPoint point;
    point.window = window;
    RateEvidence evidence;
    evidence.weights.fill(1.0F);
    if (first >= 0.0 && first <= last_first + 1.0 && last_first >= 0.0)
      evidence = view.at(static_cast<std::size_t>(std::min(first, last_first)));
    if (evidence.cadence_bpm) point.cadence = BeatsPerMinute{*evidence.cadence_bpm};
    windows.push_back(evidence.weights);
    readable.push_back(evidence.readable);
    track.points.push_back(point);
  }
  if (track.points.empty()) {
    track.warnings.push_back({"shorter_than_window", "shorter than the 8 s that the rate is followed in"});
    return track;
  }

  std::vector<std::vector<float>> posteriors(windows.size());
  std::vector<double> agreements(windows.size()), concentrations(windows.size());
  const auto keep = [&](std::size_t k, std::span<const float> posterior) {
    posteriors[k].assign(posterior.begin(), posterior.end());
    if (!readable[k]) return;
    const double rate = median_rate(posterior);
    track.points[k].rate = BeatsPerMinute{rate};
    agreements[k] = std::clamp(mass_near(posterior, rate), least_agreement, most_agreement);
    concentrations[k] = concentration_at(windows[k], rate);
  };
  const RatePath path;
  if (options.streaming) {
    path.follow(windows, causal_steps_ahead, keep);
  } else {
    path.smooth(windows, keep);
  }

  for (std::size_t k = 0; k < windows.size(); ++k) {
    TrackPoint& point = track.points[k];
    if (!point.rate) continue;
    const std::size_t from = k - std::min(k, clue_reach);
    const std::size_t to = std::min(windows.size(), k + 1 + (options.streaming ? 0 : clue_reach));
    double concentration = 0.0, log_odds = 0.0, count = 0.0;
    for (std::size_t j = from; j < to; ++j) {
      if (!track.points[j].rate) continue;
      concentration += concentrations[j];
      log_odds += std::log(agreements[j] / (1.0 - agreements[j]));
      count += 1.0;
    }
    point.concentration = concentration / count;
    point.agreement = 1.0 / (1.0 + std::exp(-log_odds / count));
    const RateCertainty certainty =
        certainty_of(point.rate->value(), posteriors[k],
                     {point.agreement, point.concentration, options.streaming, track.motion_used});
    point.confidence = certainty.confidence;
    point.low = BeatsPerMinute{certainty.low_bpm};
    point.high = BeatsPerMinute{certainty.high_bpm};
    point.at_cadence = point.cadence && coincide(point.rate->value(), point.cadence->value());
  }
  return track;
}

}  // namespace pulsewright
