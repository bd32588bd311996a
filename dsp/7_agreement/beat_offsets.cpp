#include "beat_offsets.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace pulsewright {
namespace {

constexpr double farthest_s = 0.3, share_of_interval = 0.4;

/// The test's beat nearest to where the reference's beat `i` (1 or more) is due, if it is near enough.
std::vector<Seconds>::const_iterator partner_of(std::size_t i, const std::vector<Seconds>& expected,
                                                const std::vector<Seconds>& found, const OffsetLine& line) {
  const double time = expected[i].value(), due = time + line.offset + line.slope * time;
  const double reach = std::min(farthest_s, share_of_interval * (expected[i] - expected[i - 1]).value());
  auto next = std::lower_bound(found.begin(), found.end(), Seconds{due});
  if (next != found.begin() && (next == found.end() || due - (next - 1)->value() < next->value() - due)) --next;
  if (next == found.end() || std::abs(next->value() - due) > reach) return found.end();
  return next;
}

}  // namespace

std::vector<StretchOffset> offsets_of_beats(const BeatTrain& reference, const BeatTrain& test, const OffsetLine& line) {
  constexpr double stretch_s = 60.0;
  constexpr std::size_t fewest_matches = 10;
  const std::vector<Seconds> expected = reference.times(), found = test.times();
  std::map<std::int64_t, std::vector<double>> by_minute;
  for (std::size_t i = 1; i < expected.size(); ++i) {
    const double time = expected[i].value();
    const auto next = partner_of(i, expected, found, line);
    if (next == found.end()) continue;
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

bool ambiguous_by_a_beat(const BeatTrain& reference, const BeatTrain& test, const OffsetLine& line) {
  constexpr double fewest = 20, distinct_errors = 3;
  const std::vector<Seconds> expected = reference.times(), found = test.times();
  for (const int shift : {-1, 1}) {
    double count = 0, sum = 0, squares = 0;
    for (std::size_t i = 2; i < expected.size(); ++i) {
      const auto now = partner_of(i, expected, found, line), before = partner_of(i - 1, expected, found, line);
      if (now == found.end() || before + 1 != now) continue;
      const std::ptrdiff_t j = now - found.begin() + shift;
      if (j < 1 || j >= static_cast<std::ptrdiff_t>(found.size())) continue;
      const auto other = found.begin() + j;
      const double interval = (expected[i] - expected[i - 1]).value();
      const double here = interval - (*now - *before).value(), there = interval - (*other - *(other - 1)).value();
      const double gain = there * there - here * here;
      count += 1;
      sum += gain;
      squares += gain * gain;
    }
    if (count < fewest) return false;
    const double mean = sum / count, error = std::sqrt(std::max(0.0, squares / count - mean * mean) / count);
    if (mean <= distinct_errors * error) return true;
  }
  return false;
}

}  // namespace pulsewright
