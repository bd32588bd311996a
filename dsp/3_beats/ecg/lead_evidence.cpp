#include "lead_evidence.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

// A signal is known by how it did on the events this far to either side.
constexpr Seconds record_reach{10.0};
// Log-odds beyond this say no more.
constexpr double most = 8.0;
// Shares of wrong decisions below this are not to be told apart with so few beats.
constexpr double least_share = 0.01;

// Logistic regression over the development records, both signals; made by tests/accuracy/fit_ecg_score.py.
constexpr std::array<double, fused_features + 1> weights = {0.509, 0.553, 0.561, 0.974, 2.625};

double probability(double log_odds) { return 1.0 / (1.0 + elementary::exp(-log_odds)); }

// Of one signal: running sums over the events of beats that it did not see and of other events that it took for beats.
struct Record {
  std::vector<double> missed{0.0}, false_ones{0.0};
};

}  // namespace

std::vector<std::array<double, fused_features>> fused_evidence(const std::vector<LeadEvent>& events,
                                                               const std::vector<std::vector<Sighting>>& signals,
                                                               const std::vector<bool>& beat, Hertz rate) {
  const std::size_t size = events.size();
  const auto log_odds = [&](std::size_t i, std::size_t k) { return std::clamp(signals[k][i].log_odds, -most, most); };
  std::vector<double> beats{0.0};
  beats.reserve(size + 1);
  for (std::size_t i = 0; i < size; ++i) beats.push_back(beats.back() + (beat[i] ? 1.0 : 0.0));
  std::vector<Record> records(signals.size());
  for (std::size_t k = 0; k < signals.size(); ++k) {
    for (std::size_t i = 0; i < size; ++i) {
      const double p = probability(log_odds(i, k));
      records[k].missed.push_back(records[k].missed.back() + (beat[i] ? 1.0 - p : 0.0));
      records[k].false_ones.push_back(records[k].false_ones.back() + (beat[i] ? 0.0 : p));
    }
  }
  const auto reach = static_cast<std::size_t>(samples_in(record_reach, rate));
  const double shared = 2.0 / static_cast<double>(signals.size());

  std::vector<std::array<double, fused_features>> evidence(size);
  std::size_t first = 0, last = 0;
  for (std::size_t i = 0; i < size; ++i) {
    while (events[first].at + reach < events[i].at) ++first;
    while (last < size && events[last].at <= events[i].at + reach) ++last;
    // The event itself does not speak for the signal.
    const auto others = [&](const std::vector<double>& sums) {
      return (sums[last] - sums[i + 1]) + (sums[i] - sums[first]);
    };
    const double count = others(beats) + 1.0;
    std::array<double, fused_features>& row = evidence[i];
    for (std::size_t k = 0; k < signals.size(); ++k) {
      const double misses =
          std::min(1.0 - least_share, (others(records[k].missed) + least_share) / count + least_share);
      const double wrong =
          std::min(1.0 - least_share, (others(records[k].false_ones) + least_share) / count + least_share);
      const double says = log_odds(i, k);
      const double for_it = std::max(says, 0.0), against = std::min(says, 0.0);
      row[0] += shared * for_it;
      row[1] += shared * std::min(for_it, std::max(0.0, elementary::log((1.0 - misses) / wrong)));
      row[2] += shared * against;
      row[3] += shared * std::max(against, std::min(0.0, elementary::log(misses / (1.0 - wrong))));
    }
  }
  return evidence;
}

double fused_log_odds(const std::array<double, fused_features>& evidence) {
  double sum = weights.back();
  for (std::size_t i = 0; i < fused_features; ++i) sum += weights[i] * evidence[i];
  return sum;
}

}  // namespace pulsewright::beats_stage
