#include "beat_offsets.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace pulsewright {

std::vector<StretchOffset> offsets_of_beats(const BeatTrain& reference, const BeatTrain& test, const OffsetLine& line) {
  constexpr double farthest_s = 0.3, share_of_interval = 0.4, stretch_s = 60.0;
  constexpr std::size_t fewest_matches = 10;
  const std::vector<Seconds> expected = reference.times(), found = test.times();
  std::map<std::int64_t, std::vector<double>> by_minute;
  for (std::size_t i = 1; i < expected.size(); ++i) {
    const double time = expected[i].value();
    const double due = time + line.offset + line.slope * time;
    const double reach = std::min(farthest_s, share_of_interval * (expected[i] - expected[i - 1]).value());
    auto next = std::lower_bound(found.begin(), found.end(), Seconds{due});
    if (next != found.begin() && (next == found.end() || due - (next - 1)->value() < next->value() - due)) --next;
    if (next == found.end() || std::abs(next->value() - due) > reach) continue;
    by_minute[static_cast<std::int64_t>(std::floor(time / stretch_s))].push_back(next->value() - time);
  }
  std::vector<StretchOffset> stretches;
  for (auto& [minute, differences] : by_minute) {
    if (differences.size() < fewest_matches) continue;
    const double middle = (static_cast<double>(minute) + 0.5) * stretch_s;
    stretches.push_back({Seconds{middle}, Seconds{median_of(std::move(differences))}});
  }
  return stretches;
}

}  // namespace pulsewright
