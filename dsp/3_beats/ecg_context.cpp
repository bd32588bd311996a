#include "ecg_context.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <span>

#include "sorted_columns.hpp"

namespace pulsewright::beats_stage {
namespace {

// Delays looked at; later, the last value stands for all.
constexpr Seconds longest_delay{0.75};
// One profile serves a group of this many beats, from the group itself and the one to either side.
constexpr std::size_t beats_served = 40;
// The quantile of the amplitude at a delay that counts as usual.
constexpr double usual_quantile = 0.70;
// The neighbouring beat itself, and its onset, do not belong to the profile.
constexpr Seconds beat_margin{0.083};
// T waves move a little with the rate: the largest value this near counts.
constexpr Seconds delay_slack{0.025};
// Every second track sample is enough for a profile.
constexpr std::size_t thinning = 2;

constexpr float tiny = 1e-6F;

// Energies around the beats of one group, in one direction: a row a beat, a column a delay, each column sorted by itself.
class SortedEnergies {
 public:
  SortedEnergies(std::size_t rows, std::size_t columns) : columns_(rows, columns, nothing), counts_(columns, 0) {}

  // The energies seen from one beat: `count` of them, `stride` track samples apart, nearest first.
  void fill(std::size_t row, const float* nearest, std::ptrdiff_t stride, std::size_t count) {
    float* energies = columns_.row(row);
    for (std::size_t c = 0; c < count; ++c) {
      energies[c] = nearest[static_cast<std::ptrdiff_t>(c) * stride];
      ++counts_[c];
    }
  }
  void sort() { columns_.sort(); }
  // How many energies there are at a delay, and the one of a rank from 0, lowest first.
  [[nodiscard]] std::size_t count(std::size_t column) const { return counts_[column]; }
  [[nodiscard]] float at(std::size_t column, std::size_t rank) const { return columns_.row(rank)[column]; }

 private:
  static constexpr float nothing = std::numeric_limits<float>::infinity();  // sorts behind every energy

  SortedColumns columns_;
  std::vector<std::size_t> counts_;
};

// Groups that one profile is made from.
constexpr std::size_t groups_at_once = 3;

// The usual quantile at one delay over some groups; nothing when no beat says anything about it.
std::optional<float> usual_energy(std::span<const SortedEnergies> groups, std::size_t column) {
  std::array<std::size_t, groups_at_once> left{};
  std::size_t count = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) count += left[g] = groups[g].count(column);
  if (count == 0) return std::nullopt;
  const auto rank = static_cast<std::size_t>(usual_quantile * static_cast<double>(count - 1));
  // Dropped from the top, a third of what is above the quantile at a time: of the values that stand s-th in their columns, the largest has at most
  // 3 (s - 1) above it, so that it and what stands above it in its column lie above the quantile.
  std::size_t k = count - rank;
  for (;;) {
    const std::size_t s = k > 1 ? (k - 2) / groups_at_once + 1 : 1;
    float largest = -1;
    std::size_t from = 0;
    for (std::size_t g = 0; g < groups.size(); ++g) {
      const float energy = left[g] >= s ? groups[g].at(column, left[g] - s) : -1.0F;
      from = energy > largest ? g : from;
      largest = std::max(largest, energy);
    }
    if (k == 1) return largest;
    left[from] -= s;
    k -= s;
  }
}

// Usual amplitude by delay: the quantile, gaps filled from the neighbouring delays, then widened by the slack.
std::vector<float> profile(std::span<const SortedEnergies> groups, std::size_t columns, std::size_t slack) {
  std::vector<float> quantile(columns, -1.0F);
  for (std::size_t c = 0; c < columns; ++c) {
    if (const std::optional<float> energy = usual_energy(groups, c)) quantile[c] = std::sqrt(*energy);
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

  std::vector<SortedEnergies> forward, backward;
  for (std::size_t first = 0; first < beats.size(); first += beats_served) {
    const std::size_t rows = std::min(beats_served, beats.size() - first);
    SortedEnergies& ahead = forward.emplace_back(rows, bins);
    SortedEnergies& behind = backward.emplace_back(rows, bins);
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
    ahead.sort();
    behind.sort();
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
      c.over_usual_after = std::log((c.strength + tiny) / (usual[bin] + tiny));
    }
    const std::size_t next = passed < beats.size() && beats[passed] == c.at ? passed + 1 : passed;
    if (next < beats.size()) {
      const auto& usual = before[next / beats_served];
      const std::size_t bin = std::min((beats[next] - c.at) / thinning, bins - 1);
      c.over_usual_before = std::log((c.strength + tiny) / (usual[bin] + tiny));
    }
  }
}

}  // namespace pulsewright::beats_stage
