#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "session_parts.hpp"

namespace pulsewright {

namespace {

constexpr double long_above_ceiling_s = 60.0;
/// What speaks for a sensor fault, and what for a real rate, above the maximum (ours).
constexpr double doubtful_confidence = 0.7;
constexpr double sure_confidence = 0.9;
constexpr double jump_bpm = 20.0;
constexpr double lasting_s = 30.0;
/// A rate that never comes to this share of reserve does not answer to work, in a marked bout or an activity of so many seconds (ours).
constexpr double no_rise_percent = 20.0;
constexpr double long_bout_s = 120.0;
constexpr double long_activity_s = 300.0;

/// The windows above the maximum, looked at together.
struct AboveMaximum {
  int windows = 0;
  double lasting_s = 0;  ///< longest run
  double confidence = 0;
  bool has_confidence = true;
  bool jumps = false;
};

AboveMaximum look_above(const RateSeries& rates, BeatsPerMinute maximum) {
  AboveMaximum result;
  double run = 0;
  const double step = rates.options.step.value();
  const auto above = [&](const RateWindow& w) { return w.rate && *w.rate > maximum; };
  for (std::size_t i = 0; i < rates.windows.size(); ++i) {
    const RateWindow& window = rates.windows[i];
    if (i > 0 && (above(window) || above(rates.windows[i - 1])) && window.rate && rates.windows[i - 1].rate)
      result.jumps = result.jumps || std::abs((*window.rate - *rates.windows[i - 1].rate).value()) > jump_bpm;
    run = above(window) ? run + step : 0.0;
    result.lasting_s = std::max(result.lasting_s, run);
    if (!above(window)) continue;
    ++result.windows;
    result.has_confidence = result.has_confidence && window.confidence;
    result.confidence += window.confidence.value_or(0.0);
  }
  if (result.windows > 0) result.confidence /= result.windows;
  return result;
}

void prompt_above_maximum(SessionEffort& session, const RateSeries& rates) {
  const Effort& effort = session.effort;
  const AboveMaximum above = look_above(rates, effort.maximum->rate);
  if (above.windows == 0) return;
  const bool doubtful = above.jumps || (above.has_confidence && above.confidence < doubtful_confidence);
  const bool sure =
      !above.jumps && above.lasting_s >= lasting_s && above.has_confidence && above.confidence >= sure_confidence;
  const std::string verdict =
      doubtful ? fmt::format("It looks like a sensor fault ({}).",
                             above.jumps ? "the rate jumps by more than 20 beats/min" : "the signal is doubtful there")
      : sure
          ? "The signal is good and the rate stays there, so it looks real: this person's maximum is higher than that."
          : "The signal does not decide whether that is the sensor or the heart; look at the recording.";
  session.prompts.push_back(
      {"above_maximum", fmt::format("Above the {} maximum of {:.0f} beats/min for up to {:.0f} s in a row. {}",
                                    effort.maximum->source == MaximumSource::measured ? "measured" : "age",
                                    effort.maximum->rate.value(), above.lasting_s, verdict)});
}

void prompt_no_rise(SessionEffort& session) {
  const Effort& effort = session.effort;
  if (!effort.resting || !effort.peak_rate || !effort.maximum) return;
  const auto percent = [&](BeatsPerMinute rate) { return *reserve_percent(effort, rate); };
  for (const Phase& phase : session.phases) {
    if (!phase.marked || phase.kind != PhaseKind::work || phase.span().length().value() < long_bout_s ||
        !phase.peak_rate)
      continue;
    if (percent(*phase.peak_rate) >= no_rise_percent) continue;
    session.prompts.push_back(
        {"no_rise_with_work",
         fmt::format("The marked bout of {:.0f} s stays below {:.0f} % of reserve. Was there work, and was the "
                     "sensor on? A rate that does not rise with effort is a reason to stop and ask.",
                     phase.span().length().value(), no_rise_percent)});
    return;
  }
  if (session.options.activity.empty() || static_cast<double>(effort.duration_us) / 1e6 < long_activity_s) return;
  if (percent(*effort.peak_rate) >= no_rise_percent) return;
  session.prompts.push_back(
      {"no_rise_with_work",
       fmt::format("{} is noted, and the rate never comes to {:.0f} % of reserve. Was there work, and was the sensor "
                   "on? A rate that does not rise with effort is a reason to stop and ask.",
                   session.options.activity, no_rise_percent)});
}

void prompt_late_recovery(SessionEffort& session) {
  const auto& recovery = session.recovery;
  const auto& target = session.effort.target;
  if (!recovery || !recovery->stood_still || !recovery->after_two_minutes || !target) return;
  if (!(*recovery->after_two_minutes > target->low)) return;
  session.prompts.push_back(
      {"late_recovery",
       fmt::format("Two minutes after the stop still at {:.0f} beats/min, above the lower end of the target ({:.0f}). "
                   "Did the movement really end? If so, plan a longer cool-down.",
                   recovery->after_two_minutes->value(), target->low.value())});
}

const char* words_of(Intensity intensity) {
  static constexpr const char* words[] = {"very light", "light", "moderate", "vigorous", "near-maximal"};
  return words[static_cast<std::size_t>(intensity)];
}

}  // namespace

void add_prompts(SessionEffort& session, const RateSeries& rates) {
  const Effort& effort = session.effort;
  if (effort.above_ceiling_us && static_cast<double>(*effort.above_ceiling_us) / 1e6 >= long_above_ceiling_s)
    session.prompts.push_back(
        {"long_above_own_ceiling",
         fmt::format("{:.0f} s above the own ceiling of {:g} beats/min, which a professional set. Talk about it "
                     "before the next session.",
                     static_cast<double>(*effort.above_ceiling_us) / 1e6, effort.person.own_ceiling->value())});
  if (effort.maximum) prompt_above_maximum(session, rates);
  prompt_no_rise(session);
  prompt_late_recovery(session);
  for (const ExertionComparison& comparison : session.exertion)
    if (comparison.far_apart)
      session.prompts.push_back(
          {"exertion_far_apart",
           fmt::format("It felt {} (exertion {} of 6 to 20) where the heart rate says {}: a talk about how it felt, "
                       "the sensor and "
                       "the maximum will tell which.",
                       words_of(comparison.said), comparison.exertion, words_of(comparison.measured))});
}

}  // namespace pulsewright
