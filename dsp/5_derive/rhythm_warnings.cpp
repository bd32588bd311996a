#include "rhythm_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace pulsewright {
namespace {

/// Less is chance: one window in fifty of a regular rhythm looks otherwise.
constexpr double worth_telling_percent = 10.0;
constexpr double worth_telling_pulses_percent = 5.0;

/// Mean probability of a state over the windows that have it.
double probability_of(const Rhythm& rhythm, RhythmState state) {
  double sum = 0, count = 0;
  for (const RhythmWindow& window : rhythm.windows) {
    if (window.state != state) continue;
    sum += window.probability[static_cast<std::size_t>(state)];
    count += 1;
  }
  return count > 0 ? sum / count : 0;
}

}  // namespace

void warn_of_rhythm(const Rhythm& rhythm, Warnings& warnings) {
  const auto share = [&rhythm](RhythmState state) { return rhythm.percent[static_cast<std::size_t>(state)]; };
  const auto say = [&](RhythmState state, const char* code, const char* looks, const char* means) {
    if (share(state) < worth_telling_percent) return;
    warnings.push_back(
        {code, fmt::format("The rhythm looks {} in {:.0f} % of {} windows of 30 intervals (probability "
                           "there {:.2f}). {} This is a prompt to have an ECG looked at, not a diagnosis.",
                           looks, share(state), rhythm.windows.size(), probability_of(rhythm, state), means)});
  };
  say(RhythmState::irregular, "irregular_rhythm", "irregular throughout",
      "Missed or false beats can look the same; where it is real, variability does not mean what it means in a sinus "
      "rhythm.");
  say(RhythmState::early_beats, "early_beats", "irregular with early beats",
      "Variability rests on what was put in their place.");
  const bool regular = rhythm.state == RhythmState::regular;
  if (!regular && rhythm.missed_pulses_percent.value_or(0) >= worth_telling_pulses_percent)
    warnings.push_back(
        {"missed_pulses",
         fmt::format(
             "{:.0f} % of the intervals of this pulse hold a beat that was not found. Early beats may be too weak "
             "to reach the sensor (a pulse deficit): the heart may beat more often than the pulse shows.",
             *rhythm.missed_pulses_percent)});
}

}  // namespace pulsewright
