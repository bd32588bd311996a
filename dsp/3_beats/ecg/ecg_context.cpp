#include "ecg_context.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <span>

#include "3_beats/sorted_columns.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// Delays looked at; later, the last value stands for all.
constexpr Seconds longest_delay{0.75};
// One profile serves a group of this many beats, from the group itself and the one to either side.
constexpr std::size_t beats_served = 40;
// The quantile of the amplitude at a delay that counts as usual. From 0.58 to 0.66 the development records do alike, a little better than here, but for one more false beat in 118e24.
constexpr double usual_quantile = 0.67;
// The neighbouring beat itself, and its onset, do not belong to the profile.
constexpr Seconds beat_margin{0.083};
// T waves move a little with the rate: the largest value this near counts.
constexpr Seconds delay_slack{0.025};
// Every second track sample is enough for a profile.
constexpr std::size_t thinning = 2;

constexpr float tiny = 1e-6F;

// Usual amplitude by delay around the beats of one group, in one direction, and how many beats say so.
struct Usual {
  std::vector<float> sum;  // amplitude times count
  std::vector<float> count;
};

// The energies around the beats of one group, in one direction: a row a beat, a column a delay.
class GroupEnergies {
 public:
  GroupEnergies(std::size_t rows, std::size_t columns) : columns_(rows, columns, nothing), counts_(columns, 0) {}

  // The energies seen from one beat: `count` of them, `stride` track samples apart, nearest first.
  void fill(std::size_t row, const float* nearest, std::ptrdiff_t stride, std::size_t count) {
    float* energies = columns_.row(row);
    for (std::size_t c = 0; c < count; ++c) {
      energies[c] = nearest[static_cast<std::ptrdiff_t>(c) * stride];
      ++counts_[c];
    }
  }

  Usual usual() {
    columns_.sort();
    Usual usual{std::vector<float>(counts_.size()), std::vector<float>(counts_.begin(), counts_.end())};
    for (std::size_t c = 0; c < counts_.size(); ++c) {
      if (counts_[c] == 0) continue;
      const auto rank = static_cast<std::size_t>(usual_quantile * static_cast<double>(counts_[c] - 1));
      usual.sum[c] = usual.count[c] * std::sqrt(columns_.row(rank)[c]);
    }
    return usual;
  }

 private:
  static constexpr float nothing = std::numeric_limits<float>::infinity();  // sorts behind every energy

  SortedColumns columns_;
  std::vector<std::size_t> counts_;
};

// Usual amplitude by delay: the mean over some groups, gaps filled from the neighbouring delays, then widened by the slack.
std::vector<float> profile(std::span<const Usual> groups, std::size_t columns, std::size_t slack) {
  std::vector<float> quantile(columns, -1.0F);
  for (std::size_t c = 0; c < columns; ++c) {
    float sum = 0, count = 0;
    for (const Usual& group : groups) {
      sum += group.sum[c];
      count += group.count[c];
    }
    if (count > 0) quantile[c] = sum / count;
  }
  for (std::size_t c = 1; c < columns; ++c) {
    if (quantile[c] < 0) quantile[c] = quantile[c - 1];
  }
  for (std::size_t c = columns - 1; c-- > 0;) {
    if (quantile[c] < 0) quantile[c] = quantile[c + 1];
  }
  std::vector<float> usual(columns);
  for (std::size_t c = 0; c < columns; ++c) {
    const std::size_t first = c > slack ? c - slack : 0;
    const std::size_t last = std::min(columns - 1, c + slack);
    usual[c] = std::max(0.0F, *std::max_element(quantile.begin() + static_cast<std::ptrdiff_t>(first),
                                                quantile.begin() + static_cast<std::ptrdiff_t>(last + 1)));
  }
  return usual;
}

}  // namespace

void measure_against_usual(std::vector<EcgCandidate>& candidates, const EcgTrack& track) {
  std::vector<std::size_t> beats;
  for (const EcgCandidate& c : candidates) {
    if (c.beat) beats.push_back(c.at);
  }
  for (EcgCandidate& c : candidates) {
    c.over_usual_after = 1.0F;
    c.over_usual_before = 1.0F;
  }
  if (beats.size() < 2) return;

  const auto bins = static_cast<std::size_t>(samples_in(longest_delay, track.rate)) / thinning;
  const auto margin = track_samples(beat_margin, track.rate);
  const auto slack = track_samples(delay_slack, track.rate) / thinning;
  const std::size_t size = track.narrow.size();

  std::vector<Usual> forward, backward;
  for (std::size_t first = 0; first < beats.size(); first += beats_served) {
    const std::size_t rows = std::min(beats_served, beats.size() - first);
    GroupEnergies ahead{rows, bins};
    GroupEnergies behind{rows, bins};
    for (std::size_t row = 0; row < rows; ++row) {
      const std::size_t k = first + row;
      const std::size_t at = beats[k];
      const std::size_t room_after = std::min(
          k + 1 < beats.size() ? beats[k + 1] - at - std::min(margin, beats[k + 1] - at) : bins * thinning, size - at);
      const std::size_t gap_before = k > 0 ? at - beats[k - 1] : at;
      const std::size_t room_before = k > 0 ? gap_before - std::min(margin, gap_before) : gap_before;
      const auto fitting = [&](std::size_t room) { return std::min(bins, (room + thinning - 1) / thinning); };
      ahead.fill(row, track.narrow.data() + at, thinning, fitting(room_after));
      behind.fill(row, track.narrow.data() + at, -static_cast<std::ptrdiff_t>(thinning), fitting(room_before));
    }
    forward.push_back(ahead.usual());
    backward.push_back(behind.usual());
  }
  const std::size_t groups = forward.size();
  std::vector<std::vector<float>> after(groups), before(groups);
  for (std::size_t g = 0; g < groups; ++g) {
    const std::size_t first = g > 0 ? g - 1 : 0;
    const std::size_t count = std::min(groups, g + 2) - first;
    after[g] = profile(std::span{forward}.subspan(first, count), bins, slack);
    before[g] = profile(std::span{backward}.subspan(first, count), bins, slack);
  }

  std::size_t passed = 0;  // beats strictly before the candidate
  for (EcgCandidate& c : candidates) {
    while (passed < beats.size() && beats[passed] < c.at) ++passed;
    if (passed > 0) {
      const auto& usual = after[(passed - 1) / beats_served];
      const std::size_t bin = std::min((c.at - beats[passed - 1]) / thinning, bins - 1);
      c.over_usual_after = elementary::log((c.strength + tiny) / (usual[bin] + tiny));
    }
    const std::size_t next = passed < beats.size() && beats[passed] == c.at ? passed + 1 : passed;
    if (next < beats.size()) {
      const auto& usual = before[next / beats_served];
      const std::size_t bin = std::min((beats[next] - c.at) / thinning, bins - 1);
      c.over_usual_before = elementary::log((c.strength + tiny) / (usual[bin] + tiny));
    }
  }
}

}  // namespace pulsewright::beats_stage
