#include "excerpt_choice.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace pulsewright {
namespace {

using Excerpts = std::map<std::size_t, std::vector<ExcerptReason>>;

struct PageTally {
  int beats = 0, rejected = 0, flagged = 0;
  double least_confidence = 1;
  std::optional<double> lowest_rate, highest_rate;
  double poorest_quality = 1;
};

class Pages {
 public:
  Pages(Seconds duration, Seconds length) : length_(length) {
    tallies_.resize(std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(duration / length))));
  }

  PageTally& at(Seconds time) {
    const double page = std::clamp(std::floor(time / length_), 0.0, static_cast<double>(tallies_.size() - 1));
    return tallies_[static_cast<std::size_t>(page)];
  }
  [[nodiscard]] const std::vector<PageTally>& tallies() const { return tallies_; }

 private:
  Seconds length_;
  std::vector<PageTally> tallies_;
};

Pages tally(const Analysis& analysis, const ChosenSignals& chosen, Seconds length) {
  Pages pages(analysis.beats.duration, length);
  for (const Beat& beat : analysis.beats.candidates) {
    PageTally& page = pages.at(beat.time);
    if (beat.verdict != BeatVerdict::accepted) {
      ++page.rejected;
      continue;
    }
    ++page.beats;
    page.least_confidence = std::min(page.least_confidence, beat.confidence);
  }
  for (const Interval& interval : analysis.intervals.intervals)
    if (interval.verdict != IntervalVerdict::normal) ++pages.at(interval.start).flagged;
  for (const RateWindow& window : analysis.rates.windows) {
    if (!window.rate) continue;
    PageTally& page = pages.at(window.window.start + window.window.length() / 2);
    const double rate = window.rate->value();
    page.lowest_rate = std::min(page.lowest_rate.value_or(rate), rate);
    page.highest_rate = std::max(page.highest_rate.value_or(rate), rate);
  }
  const Signal& signal = chosen.signals.front();
  for (std::size_t second = 0; second < signal.quality.size(); ++second) {
    if (signal.quality[second].fault == QualityFault::gap) continue;
    PageTally& page = pages.at(signal.start + Seconds{static_cast<double>(second)});
    page.poorest_quality = std::min(page.poorest_quality, static_cast<double>(signal.quality[second].index));
  }
  return pages;
}

}  // namespace

const char* to_string(ExcerptReason reason) {
  switch (reason) {
    case ExcerptReason::beginning: return "beginning";
    case ExcerptReason::calmest: return "calmest";
    case ExcerptReason::hardest: return "hardest";
    case ExcerptReason::most_flagged: return "most_flagged";
    case ExcerptReason::most_rejected: return "most_rejected";
    case ExcerptReason::least_sure: return "least_sure";
    case ExcerptReason::poorest_signal: break;
  }
  return "poorest_signal";
}

Excerpts choose_excerpts(const Analysis& analysis, const ChosenSignals& chosen, Seconds length) {
  const Pages pages = tally(analysis, chosen, length);
  const std::vector<PageTally>& tallies = pages.tallies();
  Excerpts excerpts;
  // The page with the most of something, the first of equals; none when no page has any.
  const auto choose = [&](ExcerptReason reason, const auto& score) {
    std::optional<std::size_t> best;
    double most = 0;
    for (std::size_t page = 0; page < tallies.size(); ++page) {
      const std::optional<double> value = score(tallies[page]);
      if (!value || (best && *value <= most)) continue;
      best = page;
      most = *value;
    }
    if (best) excerpts[*best].push_back(reason);
  };
  const auto above_zero = [](double value) { return value > 0 ? std::optional<double>(value) : std::nullopt; };
  choose(ExcerptReason::beginning,
         [](const PageTally& p) { return p.beats > 0 ? std::optional<double>(0) : std::nullopt; });
  choose(ExcerptReason::calmest,
         [](const PageTally& p) { return p.lowest_rate ? std::optional<double>(-*p.lowest_rate) : std::nullopt; });
  choose(ExcerptReason::hardest, [](const PageTally& p) { return p.highest_rate; });
  choose(ExcerptReason::most_flagged, [&](const PageTally& p) { return above_zero(p.flagged); });
  choose(ExcerptReason::most_rejected, [&](const PageTally& p) { return above_zero(p.rejected); });
  choose(ExcerptReason::least_sure, [&](const PageTally& p) { return above_zero(1 - p.least_confidence); });
  choose(ExcerptReason::poorest_signal, [&](const PageTally& p) { return above_zero(1 - p.poorest_quality); });
  if (excerpts.empty()) excerpts[0] = {};
  return excerpts;
}

}  // namespace pulsewright
