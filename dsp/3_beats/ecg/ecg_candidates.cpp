#include "ecg_candidates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "3_beats/local_amplitude.hpp"
#include "3_beats/viterbi_path.hpp"
#include "3_beats/window_medians.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// A P wave may stand this close before its QRS complex and must stay a candidate of its own.
constexpr Seconds closest_candidates{0.120};
// A wide complex has its slow energy within this reach of its steep part.
constexpr Seconds breadth_reach{0.050};
// Background: median amplitude over about this long.
constexpr Seconds background_window{2.0};
// Neighbours that compete: T waves follow within 0.4 s, P waves precede within 0.3 s.
constexpr Seconds look_back{0.40};
constexpr Seconds look_ahead{0.30};
// At high rates the next beat itself would compete: no further than this share of the usual interval.
constexpr double neighbour_share = 0.75;

// First guess: this share of the usual largest amplitude, judged over this long to either side, and no stronger one this near.
constexpr float first_share = 0.45F;
constexpr std::size_t first_reach_s = 8;
constexpr Seconds first_spacing{0.20};
// So soon after a beat and with a smaller share of its strength it is taken for a T wave, at first.
constexpr Seconds first_repolarisation{0.38};
constexpr float first_repolarisation_share = 0.65F;

// Keeps amplitude ratios finite where the signal is exactly flat.
constexpr float tiny = 1e-6F;

// Peaks are looked for in pieces of this many samples.
constexpr std::size_t piece = 1024;

std::vector<std::size_t> spaced_peaks(const std::vector<float>& energy, std::size_t spacing) {
  std::vector<std::size_t> peaks;
  std::array<std::size_t, piece> found;
  for (std::size_t first = 1; first + 1 < energy.size(); first += piece) {
    const std::size_t last = std::min(first + piece, energy.size() - 1);
    std::size_t count = 0;
    for (std::size_t i = first; i < last; ++i) {
      // Written in any case, and kept or not: which it will be is not to be predicted.
      found[count] = i;
      count +=
          static_cast<std::size_t>(energy[i] > energy[i - 1]) & static_cast<std::size_t>(energy[i] >= energy[i + 1]);
    }
    for (const std::size_t i : std::span{found}.first(count)) {
      while (!peaks.empty() && i - peaks.back() < spacing && energy[peaks.back()] < energy[i]) peaks.pop_back();
      if (peaks.empty() || i - peaks.back() >= spacing) peaks.push_back(i);
    }
  }
  return peaks;
}

// The course of the background: medians of amplitudes, thinned out, over windows that lie `stride` of them apart.
class Background {
 public:
  Background(const std::vector<float>& energy, std::size_t reach) {
    const std::size_t half = std::max<std::size_t>(1, reach / hop / 2);
    stride_ = std::max<std::size_t>(1, half / 2);
    std::vector<float> sparse;
    sparse.reserve(energy.size() / hop + 1);
    for (std::size_t i = 0; i < energy.size(); i += hop) sparse.push_back(energy[i]);
    medians_ = window_medians(sparse, half, stride_);
    for (float& m : medians_) m = std::sqrt(m);
  }

  [[nodiscard]] float at(std::size_t sample) const { return medians_[sample / hop / stride_]; }

 private:
  static constexpr std::size_t hop = 6;

  std::size_t stride_;
  std::vector<float> medians_;
};

}  // namespace

std::vector<EcgCandidate> propose_ecg_candidates(const EcgTrack& track) {
  const std::vector<std::size_t> peaks = spaced_peaks(track.narrow, track_samples(closest_candidates, track.rate));
  const Background background{track.narrow, track_samples(background_window, track.rate)};
  const std::size_t reach = track_samples(breadth_reach, track.rate);

  std::vector<EcgCandidate> candidates(peaks.size());
  for (std::size_t k = 0; k < peaks.size(); ++k) {
    const std::size_t at = peaks[k];
    const std::size_t first = at > reach ? at - reach : 0;
    const std::size_t last = std::min(track.wide.size(), at + reach + 1);
    EcgCandidate& c = candidates[k];
    c.at = at;
    c.strength = std::sqrt(track.narrow[at]);
    c.breadth = std::sqrt(*std::max_element(track.wide.begin() + static_cast<std::ptrdiff_t>(first),
                                            track.wide.begin() + static_cast<std::ptrdiff_t>(last)));
    c.to_background = elementary::log((background.at(at) + tiny) / (c.strength + tiny));
  }
  return candidates;
}

void guess_ecg_beats(std::vector<EcgCandidate>& candidates, Hertz rate) {
  std::vector<std::size_t> at;
  std::vector<float> strengths;
  at.reserve(candidates.size());
  strengths.reserve(candidates.size());
  for (const EcgCandidate& c : candidates) {
    at.push_back(c.at);
    strengths.push_back(c.strength);
  }
  const std::vector<float> usual = usual_largest(at, strengths, rate, first_reach_s);

  const std::size_t spacing = track_samples(first_spacing, rate);
  const std::size_t repolarisation = track_samples(first_repolarisation, rate);
  std::size_t previous = candidates.size();
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    EcgCandidate& c = candidates[k];
    c.beat = c.strength > 0 && c.strength > first_share * usual[k];
    if (!c.beat) continue;
    if (previous < k && c.at - candidates[previous].at < spacing) {
      if (candidates[previous].strength >= c.strength) {
        c.beat = false;
        continue;
      }
      candidates[previous].beat = false;
    }
    if (previous < k && c.at - candidates[previous].at < repolarisation &&
        c.strength < first_repolarisation_share * candidates[previous].strength) {
      c.beat = false;
      continue;
    }
    previous = k;
  }
}

void measure_neighbours(std::vector<EcgCandidate>& candidates, Hertz rate) {
  const std::vector<Rhythm> rhythm = rhythm_at(path_nodes(candidates), rate);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    EcgCandidate& c = candidates[k];
    const Seconds nearer{neighbour_share * elementary::exp(rhythm[k].log_period)};
    const std::size_t back = track_samples(std::min(look_back, nearer), rate);
    const std::size_t ahead = track_samples(std::min(look_ahead, nearer), rate);
    float before = 0, after = 0;
    for (std::size_t j = k; j-- > 0 && c.at - candidates[j].at < back;)
      before = std::max(before, candidates[j].strength);
    for (std::size_t j = k + 1; j < candidates.size() && candidates[j].at - c.at < ahead; ++j) {
      after = std::max(after, candidates[j].strength);
    }
    c.to_before = elementary::log((before + tiny) / (c.strength + tiny));
    c.to_after = elementary::log((after + tiny) / (c.strength + tiny));
  }
}

}  // namespace pulsewright::beats_stage
