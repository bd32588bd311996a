#include <algorithm>
#include <cmath>

#include "effort_account.hpp"
#include "session_parts.hpp"

namespace pulsewright {

namespace {

/// No likely maximum lies closer to the resting rate: a smaller reserve has never been told from a fault (ours).
constexpr BeatsPerMinute least_reserve{20.0};

/// The middle 95 % of equally likely values.
Ranged range_of(double value, std::vector<double> likely) {
  std::sort(likely.begin(), likely.end());
  const auto quantile = [&](double p) {
    const double at =
        std::clamp(p * static_cast<double>(likely.size()) - 0.5, 0.0, static_cast<double>(likely.size() - 1));
    const auto below = static_cast<std::size_t>(at);
    const std::size_t above = std::min(below + 1, likely.size() - 1);
    return likely[below] + (at - static_cast<double>(below)) * (likely[above] - likely[below]);
  };
  return {value, std::min(value, quantile(0.025)), std::max(value, quantile(0.975))};
}

/// The session's figures with one maximum.
struct Figures {
  double mean_reserve = 0, in_target_s = 0, moderate_s = 0;
  Load load;
};

Figures figures_with(const SessionEffort& session, std::span<const RateLine> lines, BeatsPerMinute maximum) {
  Effort trial = session.effort;
  trial.maximum->rate = maximum;
  if (trial.target) {
    const TargetZone& stated = *session.effort.target;
    trial.target = target_zone(*trial.maximum, stated.resting, stated.low_fraction, stated.high_fraction);
    if (trial.person.own_ceiling) trial.target = with_ceiling(*trial.target, *trial.person.own_ceiling);
    trial.in_target_us = 0;
    account_target(lines, trial);
  }
  account_categories(lines, trial);
  Figures figures;
  figures.mean_reserve = trial.mean_reserve_percent.value_or(0.0);
  figures.in_target_s = static_cast<double>(trial.in_target_us.value_or(0)) / 1e6;
  const auto& time = *trial.category_us;
  for (std::size_t i = static_cast<std::size_t>(Intensity::moderate); i < time.size(); ++i)
    figures.moderate_s += static_cast<double>(time[i]) / 1e6;
  const auto resting = trial.resting ? std::optional{trial.resting->rate} : std::nullopt;
  figures.load = load_over(session.cells, maximum, resting);
  return figures;
}

}  // namespace

void add_ranges(SessionEffort& session) {
  Effort& effort = session.effort;
  if (!effort.mean_rate) return;
  const std::vector<RateLine> lines = rate_lines(session.cells);
  const Figures stated = figures_with(session, lines, effort.maximum->rate);
  const BeatsPerMinute floor = (effort.resting ? effort.resting->rate : BeatsPerMinute{0.0}) + least_reserve;
  std::vector<Figures> likely;
  if (effort.maximum->sd_bpm)
    for (const BeatsPerMinute maximum : likely_maxima(*effort.maximum, floor))
      likely.push_back(figures_with(session, lines, maximum));
  else
    likely.push_back(stated);
  const auto range = [&](double value, auto figure) {
    std::vector<double> values;
    values.reserve(likely.size());
    for (const Figures& f : likely) values.push_back(figure(f));
    return range_of(value, std::move(values));
  };
  if (effort.mean_reserve_percent)
    session.mean_reserve_percent = range(stated.mean_reserve, [](const Figures& f) { return f.mean_reserve; });
  if (effort.target) session.in_target_s = range(stated.in_target_s, [](const Figures& f) { return f.in_target_s; });
  session.moderate_or_harder_s = range(stated.moderate_s, [](const Figures& f) { return f.moderate_s; });
  if (effort.duration_us > 0)
    session.moderate_or_harder_percent = 100.0 * stated.moderate_s / (static_cast<double>(effort.duration_us) / 1e6);
  session.load = stated.load;
  session.weighted_minutes =
      range(stated.load.weighted_minutes, [](const Figures& f) { return f.load.weighted_minutes; });
  if (!stated.load.impulse_men) return;
  session.impulse_men = range(*stated.load.impulse_men, [](const Figures& f) { return *f.load.impulse_men; });
  session.impulse_women = range(*stated.load.impulse_women, [](const Figures& f) { return *f.load.impulse_women; });
}

}  // namespace pulsewright
