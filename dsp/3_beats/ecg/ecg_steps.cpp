#include "ecg_steps.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "3_beats/window_medians.hpp"

namespace pulsewright::beats_stage {
namespace {

// Set on the development records of the Arrhythmia Database and of chest ECGs in exercise.

// Candidates with lower log-odds than this are no danger.
constexpr double least_log_odds = -6.0;
// The edge of a step lies this near to its candidate, and is over within this time.
constexpr Seconds edge_reach{0.045};
constexpr Seconds edge_time{0.017};
// An edge is at least this share of the height of all around: the waves of a flutter are not so steep, nor are wide complexes.
constexpr Seconds around_reach{0.125};
constexpr float least_steepness = 0.5F;
// A median over twice `around_reach` keeps a step and loses a wave that is shorter than this. No more than this share of the height is left with the median taken off; from two
// thirds on, the wide complexes of some people count as steps.
constexpr float most_wave = 0.6F;
// To either side of its edge a step stays on its side of the middle for this long. A QRS complex has returned by then.
constexpr Seconds holds_for{0.080};
// Out of the still: before its edge the signal has moved by no more than this share of its height for so long; and after it, it stays for so long.
constexpr float most_still = 0.2F;
constexpr Seconds still_for{0.075};
constexpr Seconds fades_after{0.096};
// The ramp that takes its place reaches this far to either side.
constexpr Seconds ramp_reach{0.25};

struct Lengths {
  std::size_t reach, edge, around, hold, still, fading, ramp;
  [[nodiscard]] std::size_t margin() const {
    return 2 * reach + edge + std::max({around, hold, still, fading, ramp}) + 1;
  }
};

// The lowest and highest of some values.
struct Range {
  float low = std::numeric_limits<float>::infinity(), high = -low;
  void add(float v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
  [[nodiscard]] float height() const { return high - low; }
};

struct Step {
  std::size_t at;  // its last sample before the edge
  float height;    // positive when it goes up
};

// How much of the height of an edge is left with the median around each sample taken off.
float share_of_wave(const float* edge, const Lengths& lengths) {
  const std::size_t side = lengths.reach;
  const std::vector<float> around(edge - side - lengths.around, edge + lengths.edge + side + lengths.around + 1);
  const std::vector<float> level = window_medians(around, lengths.around);
  Range whole, waves;
  for (std::size_t k = 0; k <= 2 * side + lengths.edge; ++k) {
    const float here = around[k + lengths.around];
    whole.add(here);
    waves.add(here - level[k + lengths.around]);
  }
  return waves.height() / whole.height();
}

// Whether the signal stays on its side of the middle of an edge for so long: before it (direction -1), or after it (1).
bool stays(const float* edge, float height, int direction, std::size_t length, const Lengths& lengths) {
  const float middle = *edge + 0.5F * height;
  const float* from = direction < 0 ? edge : edge + lengths.edge;
  const bool above = (direction > 0) == (height > 0);
  for (std::ptrdiff_t k = 0; k < static_cast<std::ptrdiff_t>(length); ++k)
    if ((from[direction * k] > middle) != above) return false;
  return true;
}

// Electrodes that are coupled by a capacitor lose a step soon. It still comes out of the still, and stays longer than a QRS complex does.
bool rises_from_rest(const float* edge, float height, const Lengths& lengths) {
  const auto [low, high] = std::minmax_element(edge + 1 - lengths.still, edge + 1);
  return *high - *low <= most_still * std::abs(height) && stays(edge, height, 1, lengths.fading, lengths);
}

// The step at a candidate, where there is one.
std::optional<Step> step_at(const std::vector<float>& shape, std::size_t at, const Lengths& lengths) {
  const float* centre = shape.data() + at;
  const float* edge = centre;
  const auto rise = [&](const float* from) { return from[lengths.edge] - *from; };
  for (const float* from = centre - lengths.reach - lengths.edge / 2; from <= centre + lengths.reach; ++from)
    if (std::abs(rise(from)) > std::abs(rise(edge))) edge = from;
  const Step step{static_cast<std::size_t>(edge - shape.data()), rise(edge)};
  // Most candidates are waves, and are done with here.
  if (step.height == 0 || !stays(edge, step.height, 1, lengths.hold, lengths)) return std::nullopt;
  const auto [low, high] = std::minmax_element(centre - lengths.around, centre + lengths.around + 1);
  if (std::abs(step.height) < least_steepness * (*high - *low)) return std::nullopt;
  if (rises_from_rest(edge, step.height, lengths)) return step;
  if (!stays(edge, step.height, -1, lengths.hold, lengths) || share_of_wave(edge, lengths) > most_wave)
    return std::nullopt;
  return step;
}

// Lifts one side and lowers the other so that they meet, less and less the further off.
void take_out(std::vector<float>& shape, const Step& step, const Lengths& lengths) {
  const auto ramp = static_cast<float>(lengths.ramp);
  for (std::size_t k = 0; k < lengths.ramp; ++k) {
    const float correction = 0.5F * step.height * (1.0F - static_cast<float>(k) / ramp);
    shape[step.at - k] += correction;
    shape[step.at + lengths.edge + k] -= correction;
  }
  const float slope = (shape[step.at + lengths.edge] - shape[step.at]) / static_cast<float>(lengths.edge);
  for (std::size_t k = 1; k < lengths.edge; ++k) shape[step.at + k] = shape[step.at] + slope * static_cast<float>(k);
}

}  // namespace

std::optional<EcgTrack> without_steps(const EcgTrack& track, const EcgCandidates& candidates) {
  const auto samples = [&](Seconds length) { return std::max<std::size_t>(1, track_samples(length, track.rate)); };
  const Lengths lengths{samples(edge_reach), samples(edge_time),   samples(around_reach), samples(holds_for),
                        samples(still_for),  samples(fades_after), samples(ramp_reach)};
  const auto step_of = [&](const EcgCandidate& c) {
    const bool inside = c.at >= lengths.margin() && c.at + lengths.margin() < track.shape.size();
    return inside ? step_at(track.shape, c.at, lengths) : std::nullopt;
  };
  if (std::none_of(candidates.begin(), candidates.end(),
                   [&](const EcgCandidate& c) { return (c.beat || c.log_odds >= least_log_odds) && step_of(c); }))
    return std::nullopt;

  std::vector<Step> steps;
  for (const EcgCandidate& c : candidates) {
    const std::optional<Step> step = step_of(c);
    if (step && (steps.empty() || step->at > steps.back().at + lengths.edge)) steps.push_back(*step);
  }
  EcgTrack stepless = track;
  for (const Step& step : steps) take_out(stepless.shape, step, lengths);
  const EcgTracker tracker{track.rate * static_cast<double>(track.step)};
  const std::size_t reach = lengths.ramp + tracker.reach();
  for (const Step& step : steps)
    tracker.renew(stepless, step.at - std::min(step.at, reach),
                  std::min(step.at + lengths.edge + reach, stepless.shape.size()));
  return stepless;
}

}  // namespace pulsewright::beats_stage
