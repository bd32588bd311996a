#include "lead_events.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pulsewright::beats_stage {
namespace {

// A candidate of another signal this near to an event does not make an event of its own.
constexpr Seconds same_event{0.060};
// Beats of two signals this near to each other may be the same one.
constexpr Seconds widest_lag{0.150};
// A lag that fewer pairs than this speak for is chance.
constexpr std::size_t fewest_pairs = 5;
// A candidate this near counts in full; further off it loses log-odds, as fast as this.
constexpr Seconds near_enough{0.040};
constexpr Seconds farthest{0.120};
constexpr double loss_per_second = 75.0;

using Candidates = std::vector<EcgCandidate>;

std::ptrdiff_t position(const EcgCandidate& c) { return static_cast<std::ptrdiff_t>(c.at); }

// How much later the beats of `later` usually are than those of `first`.
std::ptrdiff_t usual_lag(const Candidates& first, const Candidates& later, Hertz rate) {
  const std::ptrdiff_t widest = track_samples(widest_lag, rate);
  std::vector<std::ptrdiff_t> lags;
  auto from = later.begin();
  for (const EcgCandidate& c : first) {
    if (!c.beat) continue;
    while (from != later.end() && position(*from) < position(c) - widest) ++from;
    for (auto other = from; other != later.end() && position(*other) <= position(c) + widest; ++other) {
      if (!other->beat) continue;
      lags.push_back(position(*other) - position(c));
      break;
    }
  }
  if (lags.size() < fewest_pairs) return 0;
  const auto middle = lags.begin() + static_cast<std::ptrdiff_t>(lags.size() / 2);
  std::nth_element(lags.begin(), middle, lags.end());
  return *middle;
}

}  // namespace

std::vector<LeadEvent> lead_events(const std::vector<Candidates>& signals, Hertz rate) {
  const std::size_t same = track_samples(same_event, rate);
  std::vector<LeadEvent> events;
  for (std::size_t k = 0; k < signals.size(); ++k) {
    std::vector<LeadEvent> merged;
    merged.reserve(events.size() + signals[k].size());
    auto next = events.begin();
    for (std::size_t c = 0; c < signals[k].size(); ++c) {
      const std::size_t at = signals[k][c].at;
      for (; next != events.end() && next->at <= at; ++next) merged.push_back(*next);
      const bool before = next != events.begin() && at - std::prev(next)->at <= same;
      const bool after = next != events.end() && next->at - at <= same;
      if (!before && !after) merged.push_back({at, k, c});
    }
    merged.insert(merged.end(), next, events.end());
    events = std::move(merged);
  }
  return events;
}

std::vector<Sighting> sightings(const std::vector<LeadEvent>& events, const std::vector<Candidates>& signals,
                                std::size_t signal, Hertz rate) {
  const Candidates& candidates = signals[signal];
  const std::ptrdiff_t lag = signal == 0 ? 0 : usual_lag(signals[0], candidates, rate);
  const std::ptrdiff_t near = track_samples(near_enough, rate), far = track_samples(farthest, rate);
  const double loss = loss_per_second / rate.value();
  std::vector<Sighting> seen(events.size(), {Sighting::nothing, nothing_seen});
  std::size_t from = 0;
  for (std::size_t i = 0; i < events.size(); ++i) {
    if (events[i].signal == signal) {
      seen[i] = {events[i].candidate, candidates[events[i].candidate].log_odds};
      continue;
    }
    const auto at = static_cast<std::ptrdiff_t>(events[i].at);
    const std::ptrdiff_t back = far - std::min<std::ptrdiff_t>(lag, 0), ahead = far + std::max<std::ptrdiff_t>(lag, 0);
    while (from < candidates.size() && position(candidates[from]) < at - back) ++from;
    for (std::size_t c = from; c < candidates.size() && position(candidates[c]) <= at + ahead; ++c) {
      const std::ptrdiff_t distance = position(candidates[c]) - at;
      const std::ptrdiff_t off = std::min(std::abs(distance), std::abs(distance - lag));
      if (off > far) continue;
      const double log_odds =
          candidates[c].log_odds - loss * static_cast<double>(std::max<std::ptrdiff_t>(0, off - near));
      if (log_odds > seen[i].log_odds) seen[i] = {c, log_odds};
    }
  }
  return seen;
}

}  // namespace pulsewright::beats_stage
