/// Stage 5: intervals -> whether the rhythm is regular. A prompt to have an ECG looked at, never a diagnosis.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// How one interval follows another.
enum class RhythmState {
  regular,      ///< from one to the next little changes, or evenly with breathing
  early_beats,  ///< regular but for beats that come early, often with a pause behind
  irregular,    ///< throughout: no interval says when the next beat is due, as in atrial fibrillation
};
/// `regular`, `irregular_with_early_beats`, `irregular_throughout`.
[[nodiscard]] const char* to_string(RhythmState state);
inline constexpr std::size_t rhythm_states = 3;

/// Intervals of one window, and how far it moves on.
inline constexpr std::size_t rhythm_window_intervals = 30;
inline constexpr std::size_t rhythm_step_intervals = 15;

/// The window is taken for irregular from this probability on, because frequent early beats look alike (set on the
/// development records).
inline constexpr double irregular_from = 0.27;

struct RhythmWindow {
  Span window;
  RhythmState state = RhythmState::regular;
  std::array<double, rhythm_states> probability{};  ///< of each state, in their order; together 1
};

struct Rhythm {
  std::vector<RhythmWindow> windows;
  std::size_t not_judged = 0;                   ///< windows in which too many beats are missing, extra or misplaced
  std::optional<RhythmState> state;             ///< that most windows have; nothing without windows
  std::optional<double> probability;            ///< mean probability of that state over the windows that have it
  std::array<double, rhythm_states> percent{};  ///< of the windows
  /// Share of the intervals that hold one missed beat or more, where the beats are a pulse's: in irregular rhythms a
  /// pulse deficit, early beats too weak to reach the sensor. In per cent; nothing without intervals or pulse.
  std::optional<double> missed_pulses_percent;
  std::string absent;  ///< why there is no state
};

/// What the state is judged by, of 30 intervals in ms: how much they and their differences spread, relative to their median
/// and seen in order of size so that a few early beats do not decide; how they repeat after one, two and three
/// beats; and how often similar intervals follow similar ones (sample entropy: Richman & Moorman 2000, Am J Physiol
/// 278:H2039). Throws Error{contract} unless there are 30, all positive.
inline constexpr std::size_t rhythm_feature_count = 24;
[[nodiscard]] std::array<double, rhythm_feature_count> rhythm_features(std::span<const double> intervals_ms);

/// Probability of each state for 30 intervals in ms, in the order of the states.
[[nodiscard]] std::array<double, rhythm_states> rhythm_probabilities(std::span<const double> intervals_ms);

/// Judges windows of 30 intervals as they were measured, none of which runs over a gap. Probabilities come from a small
/// network (24 features, 12 units, 3 states) that was fitted to development records of day-long and half-hour ECGs with
/// marked rhythm and of people in exercise (tests/accuracy/fit_rhythm_state.py), and count the three states as equally
/// common before anything is seen. A window in which more than a fifth of the intervals have missed, extra or misplaced
/// beats is not judged. It does not tell fibrillation from flutter with changing conduction, nor either from anything
/// else that is irregular throughout; regular flutter is regular.
[[nodiscard]] Rhythm rhythm_of(const Intervals& intervals);

}  // namespace pulsewright
