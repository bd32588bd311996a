#include "ecg_in_noise.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <span>

#include "3_beats/viterbi_path.hpp"
#include "ecg_shapes.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright::beats_stage {
namespace {

// A place is in noise from this logarithm of background over beats on, and altogether this much further up. On clean development records few beats are.
constexpr float noise_from = -2.5F;
constexpr float noise_blend = 0.3F;
// Where beats follow each other sooner than this, they are their own background.
constexpr Seconds own_background{0.36};

// A complex, around its candidate.
constexpr Seconds complex_before{0.100}, complex_after{0.150};
// Lengths and bounds were tried on 118e00 and on the noises added to development records; most matter little, but for `strength_reach`: half or twice of it does worse.
// Templates come from beats at least this sure, if there are so many of them.
constexpr double sure_log_odds = 3.0;
constexpr std::size_t enough = 20;
constexpr float same_complex = 0.80F;
constexpr TemplateChoice compared{.most = 8, .fewest_members = 2, .smallest_share = 0.01};

// Strength of the whitened signal: over this far to either side.
constexpr Seconds strength_reach{0.400};
// A candidate is tried this far to either side.
constexpr Seconds try_reach{0.042};
// Peaks of the match: no two closer, and other complexes compete within this.
constexpr Seconds closest_peaks{0.120};
constexpr Seconds beside_reach{0.300};
// A peak with less than this clearness proposes nothing.
constexpr float least_clearness = 1.5F;
// A candidate this near to a peak stands for it.
constexpr Seconds same_place{0.026};

constexpr float tiny = 1e-6F;

// How much each candidate is to be judged as one in noise.
std::vector<float> noise_shares(const std::vector<EcgCandidate>& candidates, Hertz rate) {
  std::vector<float> shares;
  shares.reserve(candidates.size());
  for (const EcgCandidate& c : candidates)
    shares.push_back(std::clamp((c.noise_level - noise_from) / noise_blend, 0.0F, 1.0F));
  if (std::all_of(shares.begin(), shares.end(), [](float share) { return share <= 0; })) return shares;
  const std::vector<Rhythm> rhythm = rhythm_at(path_nodes(candidates), rate);
  for (std::size_t k = 0; k < shares.size(); ++k)
    if (elementary::exp(rhythm[k].log_period) < own_background.value()) shares[k] = 0;
  return shares;
}

}  // namespace

SearchInNoise::SearchInNoise(const std::vector<EcgCandidate>& candidates, const EcgTrack& track, TemplatesFrom from)
    : rate_(track.rate),
      before_(track_samples(complex_before, track.rate)),
      count_(before_ + track_samples(complex_after, track.rate) + 1) {
  mark_noise(candidates, track.shape.size());
  if (!needed()) return;
  white_ = whitened(track.shape, spans_);
  learn(candidates, from);
  match();
  find_peaks();
}

// From half way to the candidate before to half way to the one after; not nearer to an end than a complex reaches.
void SearchInNoise::mark_noise(const std::vector<EcgCandidate>& candidates, std::size_t size) {
  if (size < 2 * count_) return;
  const std::vector<float> shares = noise_shares(candidates, rate_);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    if (shares[k] <= 0) continue;
    const std::size_t from = k > 0 ? (candidates[k - 1].at + candidates[k].at) / 2 : 0;
    const std::size_t to = k + 1 < candidates.size() ? (candidates[k].at + candidates[k + 1].at) / 2 : size;
    const std::size_t first = std::max(from, before_), last = std::min(to, size - count_);
    if (first >= last) continue;
    if (!spans_.empty() && spans_.back().second >= first) {
      spans_.back().second = last;
    } else {
      spans_.emplace_back(first, last);
    }
  }
}

void SearchInNoise::learn(const std::vector<EcgCandidate>& candidates, TemplatesFrom from) {
  std::vector<const EcgCandidate*> beats, sure, quiet;
  for (const EcgCandidate& c : candidates) {
    if (!c.beat || c.at < before_ || c.at - before_ + count_ > white_.size()) continue;
    beats.push_back(&c);
    if (c.log_odds > sure_log_odds) sure.push_back(&c);
  }
  if (from == TemplatesFrom::quieter_beats && !sure.empty()) {
    std::vector<float> doubts;
    doubts.reserve(sure.size());
    for (const EcgCandidate* c : sure) doubts.push_back(c->noise_level);
    const float middle = upper_median(std::span{doubts});
    std::copy_if(sure.begin(), sure.end(), std::back_inserter(quiet),
                 [&](const EcgCandidate* c) { return c->noise_level <= middle; });
  }
  const auto& chosen = quiet.size() >= enough ? quiet : sure.size() >= enough ? sure : beats;
  TemplateBank bank{count_, same_complex};
  std::vector<float> shape(count_), sizes;
  for (const EcgCandidate* c : chosen) {
    float energy = 0;
    for (std::size_t i = 0; i < count_; ++i) {
      shape[i] = white_[c->at - before_ + i];
      energy += shape[i] * shape[i];
    }
    if (!(energy > 0)) continue;
    sizes.push_back(std::sqrt(energy));
    const float scale = 1.0F / sizes.back();
    for (float& v : shape) v *= scale;
    bank.add(shape);
  }
  templates_ = bank.chosen(compared);
  if (!sizes.empty()) usual_product_ = upper_median(std::span{sizes});
}

void SearchInNoise::match() {
  const std::size_t size = white_.size();
  product_.assign(size, 0.0F);
  likeness_.assign(size, 0.0F);
  clearness_.assign(size, 0.0F);
  std::vector<double> energy(size + 1, 0.0);
  for (std::size_t i = 0; i < size; ++i) energy[i + 1] = energy[i] + static_cast<double>(white_[i] * white_[i]);
  const std::size_t reach = track_samples(strength_reach, rate_);
  for (const auto& [first, last] : spans_) {
    for (std::size_t n = first; n < last; n += 4) {
      const std::array<float, 4> products = templates_.largest_products<4>(white_.data() + (n - before_));
      for (std::size_t s = 0; s < 4 && n + s < last; ++s) {
        const std::size_t at = n + s;
        const std::size_t around_first = at > reach ? at - reach : 0, around_last = std::min(size, at + reach);
        const double own = energy[at - before_ + count_] - energy[at - before_];
        const double around =
            (energy[around_last] - energy[around_first]) / static_cast<double>(around_last - around_first);
        product_[at] = products[s];
        likeness_[at] = products[s] / (static_cast<float>(std::sqrt(own)) + tiny);
        clearness_[at] = products[s] / (static_cast<float>(std::sqrt(around)) + tiny);
      }
    }
  }
}

void SearchInNoise::find_peaks() {
  const std::size_t spacing = track_samples(closest_peaks, rate_);
  for (const auto& [first, last] : spans_) {
    for (std::size_t i = first; i < last; ++i) {
      const float here = clearness_[i];
      if (!(here > clearness_[i - 1] && here >= clearness_[i + 1])) continue;
      while (!peaks_.empty() && i - peaks_.back().at < spacing && peaks_.back().clearness < here) peaks_.pop_back();
      if (peaks_.empty() || i - peaks_.back().at >= spacing) peaks_.push_back({i, here});
    }
  }
}

std::size_t SearchInNoise::best_near(std::size_t at) const {
  const std::size_t reach = track_samples(try_reach, rate_);
  const auto first = clearness_.begin() + static_cast<std::ptrdiff_t>(at > reach ? at - reach : 0);
  const auto last = clearness_.begin() + static_cast<std::ptrdiff_t>(std::min(clearness_.size(), at + reach + 1));
  return static_cast<std::size_t>(std::max_element(first, last) - clearness_.begin());
}

void SearchInNoise::propose(std::vector<EcgCandidate>& candidates, const EcgTrack& track) const {
  if (candidates.empty()) return;
  const std::size_t same = track_samples(same_place, rate_);
  std::vector<EcgCandidate> more;
  std::size_t k = 0;
  for (const Peak& peak : peaks_) {
    if (peak.clearness < least_clearness) continue;
    while (k + 1 < candidates.size() && candidates[k + 1].at <= peak.at) ++k;
    const auto off = [&](const EcgCandidate& c) { return std::max(c.at, peak.at) - std::min(c.at, peak.at); };
    const bool after_nearer = k + 1 < candidates.size() && off(candidates[k + 1]) < off(candidates[k]);
    const EcgCandidate& nearest = candidates[after_nearer ? k + 1 : k];
    if (off(nearest) <= same) continue;
    const auto around = [&](const std::vector<float>& energy) {
      const auto first = energy.begin() + static_cast<std::ptrdiff_t>(peak.at > same ? peak.at - same : 0);
      const auto last = energy.begin() + static_cast<std::ptrdiff_t>(std::min(energy.size(), peak.at + same + 1));
      return std::sqrt(*std::max_element(first, last));
    };
    EcgCandidate& c = more.emplace_back();
    c.at = peak.at;
    c.strength = around(track.narrow);
    c.breadth = around(track.wide);
    c.to_background = nearest.to_background + elementary::log((nearest.strength + tiny) / (c.strength + tiny));
    c.stretch = nearest.stretch;
  }
  candidates.insert(candidates.end(), more.begin(), more.end());
  std::inplace_merge(candidates.begin(), candidates.end() - static_cast<std::ptrdiff_t>(more.size()), candidates.end(),
                     [](const EcgCandidate& a, const EcgCandidate& b) { return a.at < b.at; });
}

void SearchInNoise::measure(std::vector<EcgCandidate>& candidates) const {
  if (!needed()) {
    for (EcgCandidate& c : candidates) c.in_noise = 0;
    return;
  }
  const std::size_t reach = track_samples(beside_reach, rate_), same = track_samples(closest_peaks, rate_) / 2;
  const std::vector<float> shares = noise_shares(candidates, rate_);
  std::size_t from = 0;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    EcgCandidate& c = candidates[k];
    c.in_noise = shares[k];
    if (c.in_noise <= 0) continue;
    const std::size_t best = best_near(c.at);
    c.match = clearness_[best];
    c.match_alone = likeness_[best];
    c.match_size = elementary::log((product_[best] + tiny) / (usual_product_ + tiny));
    c.match_beside = 0;
    if (c.match >= least_clearness) c.log_odds = std::max(c.log_odds, out_of_question);
    while (from < peaks_.size() && peaks_[from].at + reach < c.at) ++from;
    for (std::size_t p = from; p < peaks_.size() && peaks_[p].at <= c.at + reach; ++p) {
      const std::size_t off = std::max(peaks_[p].at, best) - std::min(peaks_[p].at, best);
      if (off >= same) c.match_beside = std::max(c.match_beside, peaks_[p].clearness);
    }
  }
}

}  // namespace pulsewright::beats_stage
