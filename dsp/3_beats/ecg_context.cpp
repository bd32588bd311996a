#include "ecg_context.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pulsewright::beats_stage {
namespace {

// Delays looked at; later, the last value stands for all.
constexpr Seconds longest_delay{0.75};
// One profile serves this many beats, from that many more to either side.
constexpr std::size_t beats_served = 40;
constexpr std::size_t beats_around = 40;
// The quantile of the amplitude at a delay that counts as usual.
constexpr double usual_quantile = 0.70;
// The neighbouring beat itself, and its onset, do not belong to the profile.
constexpr Seconds beat_margin{0.083};
// T waves move a little with the rate: the largest value this near counts.
constexpr Seconds delay_slack{0.025};
// Every second track sample is enough for a profile.
constexpr std::size_t thinning = 2;

constexpr float tiny = 1e-6F;

// Usual amplitude by delay, one direction, for one group of beats.
class Profile {
 public:
  Profile(std::size_t bins, std::size_t slack) : columns_(bins), slack_(slack) {}

  void clear() {
    for (auto& column : columns_) column.clear();
  }
  void add(std::size_t bin, float energy) { columns_[bin].push_back(energy); }

  // Quantile per delay, gaps filled from the neighbouring delays, then widened by the slack.
  void settle(std::vector<float>& usual) {
    std::vector<float> quantile(columns_.size(), -1.0F);
    for (std::size_t b = 0; b < columns_.size(); ++b) {
      auto& column = columns_[b];
      if (column.empty()) continue;
      const auto rank = static_cast<std::ptrdiff_t>(usual_quantile * static_cast<double>(column.size() - 1));
      std::nth_element(column.begin(), column.begin() + rank, column.end());
      quantile[b] = std::sqrt(column[static_cast<std::size_t>(rank)]);
    }
    for (std::size_t b = 1; b < quantile.size(); ++b) {
      if (quantile[b] < 0) quantile[b] = quantile[b - 1];
    }
    for (std::size_t b = quantile.size() - 1; b-- > 0;) {
      if (quantile[b] < 0) quantile[b] = quantile[b + 1];
    }
    usual.resize(quantile.size());
    for (std::size_t b = 0; b < quantile.size(); ++b) {
      const std::size_t first = b > slack_ ? b - slack_ : 0;
      const std::size_t last = std::min(quantile.size() - 1, b + slack_);
      usual[b] = std::max(0.0F, *std::max_element(quantile.begin() + static_cast<std::ptrdiff_t>(first),
                                                  quantile.begin() + static_cast<std::ptrdiff_t>(last + 1)));
    }
  }

 private:
  std::vector<std::vector<float>> columns_;
  std::size_t slack_;
};

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
  const auto margin = static_cast<std::size_t>(std::lround(samples_in(beat_margin, track.rate)));
  const auto slack = static_cast<std::size_t>(std::lround(samples_in(delay_slack, track.rate))) / thinning;
  const std::size_t size = track.narrow.size();

  const std::size_t groups = (beats.size() + beats_served - 1) / beats_served;
  std::vector<std::vector<float>> after(groups), before(groups);
  Profile forward{bins, slack}, backward{bins, slack};
  for (std::size_t g = 0; g < groups; ++g) {
    const std::size_t first = g * beats_served > beats_around ? g * beats_served - beats_around : 0;
    const std::size_t last = std::min(beats.size(), (g + 1) * beats_served + beats_around);
    forward.clear();
    backward.clear();
    for (std::size_t k = first; k < last; ++k) {
      const std::size_t at = beats[k];
      const std::size_t room_after = std::min(
          k + 1 < beats.size() ? beats[k + 1] - at - std::min(margin, beats[k + 1] - at) : bins * thinning, size - at);
      const std::size_t gap_before = k > 0 ? at - beats[k - 1] : at;
      const std::size_t room_before = k > 0 ? gap_before - std::min(margin, gap_before) : gap_before;
      for (std::size_t b = 0; b < bins && b * thinning < room_after; ++b)
        forward.add(b, track.narrow[at + b * thinning]);
      for (std::size_t b = 0; b < bins && b * thinning < room_before; ++b)
        backward.add(b, track.narrow[at - b * thinning]);
    }
    forward.settle(after[g]);
    backward.settle(before[g]);
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
