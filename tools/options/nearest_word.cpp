#include "nearest_word.hpp"

#include <algorithm>
#include <cstddef>

namespace pulsewright::program {
namespace {

/// Single-letter changes between two words, a swap of neighbours being one (Damerau 1964, Comm. ACM 7:171; optimal string alignment).
std::size_t changes_between(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

/// Letters that two words begin with in common.
std::size_t letters_alike(const std::string& a, const std::string& b) {
  const std::size_t length = std::min(a.size(), b.size());
  std::size_t alike = 0;
  while (alike < length && a[alike] == b[alike]) ++alike;
  return alike;
}

}  // namespace

std::string nearest_word(const std::string& word, const std::vector<std::string>& known) {
  std::string nearest;
  std::size_t fewest = std::max<std::size_t>(word.size() / 3, 1) + 1, most_alike = 0;
  for (const std::string& candidate : known) {
    const std::size_t changes = changes_between(word, candidate), alike = letters_alike(word, candidate);
    if (changes > fewest || (changes == fewest && (nearest.empty() || alike <= most_alike))) continue;
    fewest = changes;
    most_alike = alike;
    nearest = candidate;
  }
  return nearest;
}

}  // namespace pulsewright::program
