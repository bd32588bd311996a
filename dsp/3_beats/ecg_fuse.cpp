#include "ecg_fuse.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Clarity is judged over this many seconds to either side.
constexpr std::size_t clarity_reach_s = 10;
// Another signal takes over where the present one is more ambiguous than `bearable` and the other less than `takeover` of that.
// Ambiguity is the mean probability, per beat, that a decision is wrong. Set on the development records, two signals each.
constexpr double bearable = 0.08;
constexpr double takeover = 0.2;
// The first signal is the one to begin with unless it is this many times more ambiguous over the whole stretch.
constexpr double first_preferred = 6.0;
// Support by other signals: so much of their log-odds, within this limit, fading to nothing at this ambiguity.
constexpr double support_weight = 0.8;
constexpr double support_limit = 6.0;
constexpr double support_ambiguity = 0.10;
// The same beat peaks within this in two signals.
constexpr Seconds same_beat{0.100};
// A stretch without a single beat could hardly be more ambiguous.
constexpr double hopeless = 0.5;

// Ambiguity of one signal, per second.
std::vector<double> ambiguity_course(const std::vector<EcgCandidate>& candidates, Hertz rate, std::size_t seconds) {
  std::vector<double> doubt(seconds + 1, 0.0);
  std::vector<double> beats(seconds + 1, 0.0);
  for (const EcgCandidate& c : candidates) {
    const auto s = std::min(seconds - 1, static_cast<std::size_t>(static_cast<double>(c.at) / rate.value()));
    doubt[s + 1] += 1.0 / (1.0 + std::exp(std::abs(c.log_odds)));
    if (c.beat) beats[s + 1] += 1.0;
  }
  for (std::size_t s = 0; s < seconds; ++s) {
    doubt[s + 1] += doubt[s];
    beats[s + 1] += beats[s];
  }
  std::vector<double> course(seconds);
  for (std::size_t s = 0; s < seconds; ++s) {
    const std::size_t first = s > clarity_reach_s ? s - clarity_reach_s : 0;
    const std::size_t last = std::min(seconds, s + clarity_reach_s + 1);
    const double found = beats[last] - beats[first];
    course[s] = found > 0 ? std::min(hopeless, (doubt[last] - doubt[first]) / found) : hopeless;
  }
  return course;
}

double mean(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

// The signal to follow, per second.
std::vector<std::size_t> choose_signal(const std::vector<std::vector<double>>& ambiguity) {
  std::size_t present = 0;
  for (std::size_t k = 1; k < ambiguity.size(); ++k) {
    const double handicap = present == 0 ? first_preferred : 1.0;
    if (handicap * mean(ambiguity[k]) < mean(ambiguity[present])) present = k;
  }
  std::vector<std::size_t> choice(ambiguity[0].size());
  for (std::size_t s = 0; s < choice.size(); ++s) {
    std::size_t clearest = present;
    for (std::size_t k = 0; k < ambiguity.size(); ++k) {
      if (ambiguity[k][s] < ambiguity[clearest][s]) clearest = k;
    }
    if (ambiguity[present][s] > bearable && ambiguity[clearest][s] < takeover * ambiguity[present][s])
      present = clearest;
    choice[s] = present;
  }
  return choice;
}

// The best log-odds another signal shows at the same moment; the lower limit when it shows nothing.
double seen_in(const std::vector<EcgCandidate>& other, std::size_t at, std::size_t reach) {
  const auto first = std::lower_bound(other.begin(), other.end(), at > reach ? at - reach : 0,
                                      [](const EcgCandidate& c, std::size_t position) { return c.at < position; });
  double best = -support_limit;
  for (auto c = first; c != other.end() && c->at <= at + reach; ++c) best = std::max(best, c->log_odds);
  return std::min(best, support_limit);
}

}  // namespace

std::vector<EcgCandidate> fuse_judged(const std::vector<std::vector<EcgCandidate>>& signals, Hertz rate) {
  std::size_t last = 0;
  for (const auto& candidates : signals) {
    if (!candidates.empty()) last = std::max(last, candidates.back().at);
  }
  const auto seconds = static_cast<std::size_t>(static_cast<double>(last) / rate.value()) + 1;
  std::vector<std::vector<double>> ambiguity;
  ambiguity.reserve(signals.size());
  for (const auto& candidates : signals) ambiguity.push_back(ambiguity_course(candidates, rate, seconds));
  const std::vector<std::size_t> choice = choose_signal(ambiguity);
  const auto reach = static_cast<std::size_t>(std::lround(samples_in(same_beat, rate)));

  std::vector<EcgCandidate> merged;
  for (std::size_t k = 0; k < signals.size(); ++k) {
    for (EcgCandidate c : signals[k]) {
      const auto s = std::min(seconds - 1, static_cast<std::size_t>(static_cast<double>(c.at) / rate.value()));
      if (choice[s] != k) continue;
      for (std::size_t other = 0; other < signals.size(); ++other) {
        if (other == k) continue;
        const double trust = std::clamp(1.0 - ambiguity[other][s] / support_ambiguity, 0.0, 1.0);
        c.log_odds += support_weight * trust * seen_in(signals[other], c.at, reach);
      }
      c.signal = k;
      merged.push_back(c);
    }
  }
  std::stable_sort(merged.begin(), merged.end(),
                   [](const EcgCandidate& a, const EcgCandidate& b) { return a.at < b.at; });
  return merged;
}

}  // namespace pulsewright::beats_stage
