#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "elementary/elementary.hpp"
#include "joint_evidence.hpp"
#include "joint_path.hpp"
#include "joint_stretches.hpp"
#include "pulse_spectra.hpp"
#include "pulsewright/rate_track.hpp"
#include "rate_certainty.hpp"
#include "rate_evidence.hpp"
#include "rate_path.hpp"
#include "rate_signals.hpp"
#include "step_kernel.hpp"

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
/// How far from the heart that was found beside a stride the closer look reaches: SD, and where it ends.
constexpr double near_bpm = 4.0;
constexpr std::size_t near_reach = 16;

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

/// Weights, lessened away from where a posterior has its mass.
RateWeights near_to(std::span<const float> posterior, RateWeights weights) {
  static const StepKernel fading = [] {
    std::vector<float> one(near_reach + 1);
    for (std::size_t i = 0; i < one.size(); ++i) {
      const double z = static_cast<double>(i) * grid_step_bpm / near_bpm;
      one[i] = static_cast<float>(elementary::exp(-0.5 * z * z));
    }
    return StepKernel{std::move(one)};
  }();
  std::vector<float> mass(posterior.begin(), posterior.end());
  mass.resize(padded_grid_size);
  fading.over(mass, mass);
  float most = 0.0F;
  for (std::size_t i = 0; i < grid_size; ++i) {
    weights[i] *= mass[i];
    most = std::max(most, weights[i]);
  }
  for (float& w : weights) w = most > 0.0F ? w / most : 1.0F;
  return weights;
}

bool coincide(double rate, double cadence) {
  return std::min({std::abs(rate - cadence), std::abs(rate - 2.0 * cadence), std::abs(rate - 0.5 * cadence)}) <=
         same_line_bpm;
}

/// What the windows' spectra say of the rate, one by one.
struct Evidence {
  explicit Evidence(std::size_t windows) : weights(windows), readable(windows), heart(windows) {
    for (RateWeights& w : weights) w.fill(1.0F);
  }
  std::vector<RateWeights> weights;
  std::vector<bool> readable;
  /// Where the heart was told from a stride: probabilities of its rates, its lines, and the concentration before the closer look.
  struct Heart {
    std::vector<float> posterior;
    double concentration = 0;
    RateLines lines;
  };
  std::vector<Heart> heart;
};

/// With motion channels: what they explain is taken out.
Evidence beside_motion(const RateSignals& signals, const WindowPlaces& places, const TrackOptions& options,
                       std::vector<TrackPoint>& points) {
  SpectralView view{signals, options.streaming};
  Evidence found{places.size()};
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (!places[k]) continue;
    const RateEvidence evidence = view.at(*places[k]);
    if (evidence.cadence_bpm) points[k].cadence = BeatsPerMinute{*evidence.cadence_bpm};
    found.weights[k] = evidence.weights;
    found.readable[k] = evidence.readable;
  }
  return found;
}

/// Without: a stride is looked for in the pulse itself and followed beside the heart; then it is taken out, and what lies far from where the heart was found counts little.
Evidence without_motion(const RateSignals& signals, const WindowPlaces& places, const TrackOptions& options) {
  const PulseSpectra spectra{signals, places};
  const JointEvidence view{spectra};
  JointStretches stretches{spectra, view, options.threads > 1};
  Evidence found{places.size()};
  const auto pairs = [&](std::size_t k) -> JointStates& { return stretches.likelihood(k); };
  const auto keep = [&](std::size_t k, std::span<const float> heart, std::size_t column) {
    const JointEvidence::Window window = stretches.window(k);
    if (!JointEvidence::readable(window)) return;
    const RateWeights weights = view.weights(window, column);
    found.readable[k] = true;
    found.weights[k] = near_to(heart, weights);
    const double rate = median_rate(heart);
    found.heart[k] = {
        {heart.begin(), heart.end()}, concentration_at(weights, rate), JointEvidence::lines(window, rate)};
  };
  const JointPath path;
  if (options.streaming) {
    path.follow(places.size(), pairs, keep);
  } else {
    path.smooth(places.size(), pairs, keep);
  }
  return found;
}

/// Every window of the recording, and where its samples are.
WindowPlaces lay_windows(const RateSignals& signals, Seconds duration, std::vector<TrackPoint>& points) {
  WindowPlaces places;
  const double window = std::round(samples_in(track_window, signals.rate));
  const double last_first = static_cast<double>(signals.size()) - window;
  for (std::size_t k = 0;; ++k) {
    TrackPoint point;
    point.window = {static_cast<double>(k) * track_step, static_cast<double>(k) * track_step + track_window};
    // A window may overhang the signal by a sample: the grid is coarser than the recording.
    if (point.window.end > duration + period(signals.rate)) return places;
    const double first = std::round(samples_in(point.window.start - signals.start, signals.rate));
    const bool inside = first >= 0.0 && first <= last_first + 1.0 && last_first >= 0.0;
    places.push_back(inside ? std::optional{static_cast<std::size_t>(std::min(first, last_first))} : std::nullopt);
    points.push_back(point);
  }
}

}  // namespace

RateTrack track_rate(const Recording& recording, const TrackOptions& options) {
  return track_rate(recording, ChosenSignals{}, options);
}

RateTrack track_rate(const Recording& recording, const ChosenSignals& chosen, const TrackOptions& options) {
  RateTrack track;
  track.duration = recording.duration;
  track.provenance = recording.provenance;
  track.provenance.version = version();
  const RateSignals signals = gather_rate_signals(recording, chosen, options);
  if (signals.pulse.empty()) {
    track.warnings.push_back(
        {"too_slow_to_track", "pulse sampled below 16 Hz: the rate cannot be followed in its spectrum"});
    return track;
  }
  track.motion_used = !signals.acceleration.empty() || !signals.rotation.empty();
  if (options.streaming) track.delay = static_cast<double>(causal_steps_ahead) * track_step + motion_filter_reach;

  const WindowPlaces places = lay_windows(signals, recording.duration, track.points);
  if (places.empty()) {
    track.warnings.push_back({"shorter_than_window", "shorter than the 8 s that the rate is followed in"});
    return track;
  }
  Evidence found = track.motion_used ? beside_motion(signals, places, options, track.points)
                                     : without_motion(signals, places, options);
  std::vector<std::vector<float>> posteriors(places.size());
  std::vector<double> agreements(places.size()), concentrations(places.size());
  const auto keep = [&](std::size_t k, std::span<const float> posterior) {
    if (!found.readable[k]) return;
    const double rate = median_rate(posterior);
    track.points[k].rate = BeatsPerMinute{rate};
    // The closer look knows one heart only; how sure it is of that one the pairs know.
    const bool told = !found.heart[k].posterior.empty();
    posteriors[k] = told ? std::move(found.heart[k].posterior) : std::vector<float>(posterior.begin(), posterior.end());
    concentrations[k] = told ? found.heart[k].concentration : concentration_at(found.weights[k], rate);
    agreements[k] = std::clamp(mass_near(posteriors[k], rate), least_agreement, most_agreement);
  };
  const RatePath path;
  if (options.streaming) {
    path.follow(found.weights, causal_steps_ahead, keep);
  } else {
    path.smooth(found.weights, keep);
  }

  std::vector<AnchorClues> clues;
  clues.reserve(places.size());
  for (std::size_t k = 0; k < places.size(); ++k) {
    TrackPoint& point = track.points[k];
    if (!point.rate) continue;
    const std::size_t from = k - std::min(k, clue_reach);
    const std::size_t to = std::min(places.size(), k + 1 + (options.streaming ? 0 : clue_reach));
    double concentration = 0.0, log_odds = 0.0, count = 0.0;
    RateLines lines;
    for (std::size_t j = from; j < to; ++j) {
      if (!track.points[j].rate) continue;
      concentration += concentrations[j];
      log_odds += elementary::log(agreements[j] / (1.0 - agreements[j]));
      lines += found.heart[j].lines;
      count += 1.0;
    }
    point.concentration = concentration / count;
    point.agreement = 1.0 / (1.0 + elementary::exp(-log_odds / count));
    const auto windows = static_cast<float>(count);
    clues.push_back({point.rate->value(),
                     {lines.first / windows, lines.overtones / windows, lines.between / windows},
                     point.agreement});
  }
  std::vector<AnchorSupport> supports(clues.size());
  if (!track.motion_used) supports = anchor_support(clues, options.streaming);

  std::size_t answered = 0;
  for (std::size_t k = 0; k < places.size(); ++k) {
    TrackPoint& point = track.points[k];
    if (!point.rate) continue;
    const RateCertainty certainty = certainty_of(
        point.rate->value(), posteriors[k],
        {point.agreement, point.concentration, supports[answered++], options.streaming, track.motion_used});
    point.confidence = certainty.confidence;
    point.low = BeatsPerMinute{certainty.low_bpm};
    point.high = BeatsPerMinute{certainty.high_bpm};
    point.at_cadence = point.cadence && coincide(point.rate->value(), point.cadence->value());
  }
  return track;
}

}  // namespace pulsewright
