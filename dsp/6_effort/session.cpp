#include "pulsewright/session.hpp"

#include <fmt/format.h>

#include "session_parts.hpp"

namespace pulsewright {

namespace {

void check_options(const SessionOptions& options) {
  if (!(options.peak_window.value() > 0.0))
    throw Error{ErrorCode::usage, fmt::format("a peak over {} s; it must be above 0", options.peak_window.value())};
  if (options.exertion) static_cast<void>(intensity_of_exertion(*options.exertion));
}

void explain_absent(SessionEffort& session) {
  const Effort& effort = session.effort;
  const auto reason = [&](bool absent, const char* measure, const std::string& why) {
    if (absent) session.reasons.push_back({measure, why});
  };
  const std::string no_rate = "no stretch of the session has a measured rate";
  const std::string no_maximum = "needs a measured maximum, or an age";
  const std::string no_resting = "needs a resting rate";
  const std::string& no_load = !effort.mean_rate ? no_rate : !effort.maximum ? no_maximum : no_resting;
  for (const char* key : {"impulse_men", "impulse_women", "mean_impulse_men", "mean_impulse_women"})
    reason(!session.impulse_men, key, no_load);
  reason(!session.load, "weighted_minutes", !effort.mean_rate ? no_rate : no_maximum);
  const std::string& no_category = !effort.mean_rate ? no_rate : no_maximum;
  reason(!session.moderate_or_harder_s, "moderate_or_harder_s", no_category);
  reason(!session.moderate_or_harder_percent, "moderate_or_harder_percent", no_category);
  reason(!session.longest_moderate, "longest_moderate",
         !effort.mean_rate || !effort.maximum ? no_category : "no time at moderate intensity or harder");
  reason(!session.longest_in_target, "longest_in_target",
         !effort.mean_rate ? no_rate
         : !effort.target  ? "there is no target"
                           : "no time in the target");
  reason(!session.peak, "peak",
         fmt::format("no stretch of {:g} s is measured throughout", session.options.peak_window.value()));
  reason(!session.recovery, "recovery", "no bout of work ends inside the recording");
  reason(!session.drift, "drift", "no bout of work lasts six minutes");
}

}  // namespace

std::optional<double> reserve_percent(const Effort& effort, BeatsPerMinute rate) {
  if (!effort.maximum || !effort.resting) return std::nullopt;
  return 100.0 * ((rate - effort.resting->rate) / (effort.maximum->rate - effort.resting->rate));
}

SessionEffort study_session(const RateSeries& rates, const Person& person, const SessionOptions& options) {
  check_options(options);
  SessionEffort session;
  session.options = options;
  session.effort = effort(rates, person, options.effort);
  session.cells = effort_cells(rates);
  const Effort& account = session.effort;
  const Seconds window = rates.options.window;
  const auto resting = account.resting ? std::optional{account.resting->rate} : std::nullopt;
  const auto maximum = account.maximum ? std::optional{account.maximum->rate} : std::nullopt;
  if (maximum) add_ranges(session);
  add_stretches(session);
  add_scheme(session);
  session.phases = find_phases(session.cells, window, resting, maximum, options.marks, options.phases);
  session.kinetics = fit_kinetics(session.cells, window, session.phases);
  session.recovery = find_recovery(session.cells, window, session.phases);
  session.drift = find_drift(session.cells, window, session.phases);
  add_easing(session);
  add_exertion(session);
  add_prompts(session, rates);
  explain_absent(session);
  return session;
}

}  // namespace pulsewright
