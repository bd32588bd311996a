#include "rate_at_any_time.hpp"

#include <algorithm>

#include "pulsewright/clean.hpp"

namespace pulsewright {

std::vector<Seconds> corrected_beats(const BeatTrain& train) {
  std::vector<Seconds> beats;
  for (const NormalInterval& interval : normal_series(clean(train))) {
    if (beats.empty() || beats.back() < interval.start) beats.push_back(interval.start);
    beats.push_back(interval.end);
  }
  return beats;
}

RateAtAnyTime RateAtAnyTime::of_beats(const BeatTrain& beats, Seconds window) {
  RateAtAnyTime rate;
  rate.window_s_ = window.value();
  for (const Seconds time : corrected_beats(beats)) rate.times_.push_back(time.value());
  return rate;
}

RateAtAnyTime RateAtAnyTime::of_windows(const RateSeries& rates) {
  RateAtAnyTime rate;
  std::optional<double> step;
  double before = 0;
  for (const RateWindow& window : rates.windows) {
    const double middle = 0.5 * (window.window.start + window.window.end).value();
    if (&window != &rates.windows.front() && (!step || middle - before < *step)) step = middle - before;
    before = middle;
    if (!window.rate) continue;
    rate.times_.push_back(middle);
    rate.rates_.push_back(window.rate->value());
  }
  constexpr double longest_steps = 1.5;
  rate.longest_s_ = longest_steps * step.value_or(0);
  return rate;
}

std::optional<double> RateAtAnyTime::at(double time_s) const {
  return rates_.empty() ? over_beats(time_s) : between_windows(time_s);
}

std::optional<double> RateAtAnyTime::slope_at(double time_s) const {
  constexpr double reach_s = 1.0;
  const auto before = at(time_s - reach_s), after = at(time_s + reach_s);
  if (!before || !after) return std::nullopt;
  return (*after - *before) / (2 * reach_s);
}

std::optional<double> RateAtAnyTime::over_beats(double time_s) const {
  constexpr double longest_interval_s = 3.0;
  const auto from = std::lower_bound(times_.begin(), times_.end(), time_s - 0.5 * window_s_);
  const auto to = std::lower_bound(from, times_.end(), time_s + 0.5 * window_s_);
  if (to - from < 3 || from == times_.begin() || to == times_.end()) return std::nullopt;
  for (auto beat = from; beat != to + 1; ++beat)
    if (*beat - *(beat - 1) > longest_interval_s) return std::nullopt;
  return 60.0 * static_cast<double>(to - from - 1) / (*(to - 1) - *from);
}

std::optional<double> RateAtAnyTime::between_windows(double time_s) const {
  const auto after = std::lower_bound(times_.begin(), times_.end(), time_s);
  if (after == times_.end()) return std::nullopt;
  const auto i = static_cast<std::size_t>(after - times_.begin());
  if (*after == time_s) return rates_[i];
  if (i == 0 || times_[i] - times_[i - 1] > longest_s_) return std::nullopt;
  const double share = (time_s - times_[i - 1]) / (times_[i] - times_[i - 1]);
  return rates_[i - 1] + share * (rates_[i] - rates_[i - 1]);
}

}  // namespace pulsewright
