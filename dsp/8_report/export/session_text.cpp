#include <cmath>

#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

std::string whole(BeatsPerMinute rate) { return std::to_string(whole_beats(rate)); }

std::string whole_or_none(const std::optional<BeatsPerMinute>& rate) { return rate ? whole(*rate) : "none"; }

std::string span_text(const Span& span) { return format_clock(span.start) + " to " + format_clock(span.end); }

void add_ranges(TextPage& page, const SessionEffort& session) {
  const Effort& effort = session.effort;
  if (!effort.maximum) return;
  page.blank();
  const std::optional<double>& sd = effort.maximum->sd_bpm;
  page.heading(sd ? "With the maximum's spread of " + format_number(sd, 1) +
                        " beats/min (one SD), 95 % intervals in brackets"
                  : "In short (the maximum was measured, so no spread of an age formula)");
  if (session.mean_reserve_percent)
    page.row("mean effort", ranged_text(*session.mean_reserve_percent, 0, "% of reserve"), "over the measured time");
  if (session.in_target_s) page.row("in target", ranged_clock(*session.in_target_s), "minutes and seconds");
  if (session.moderate_or_harder_s)
    page.row("moderate or harder", ranged_clock(*session.moderate_or_harder_s),
             session.moderate_or_harder_percent ? format_number(session.moderate_or_harder_percent, 0) +
                                                      " % of the whole recording, unmeasured time included"
                                                : "");
  if (session.longest_moderate)
    page.row("longest stretch of it", format_clock(session.longest_moderate->length()),
             span_text(*session.longest_moderate) + ", without a break; unmeasured time breaks it");
  if (session.longest_in_target)
    page.row("longest in target", format_clock(session.longest_in_target->length()),
             span_text(*session.longest_in_target));
  if (session.peak) {
    std::string value = whole(session.peak->rate) + " beats/min";
    if (session.peak->reserve_percent)
      value += ", " + format_number(session.peak->reserve_percent, 0) + " % of reserve";
    page.row("peak", value,
             "highest mean over " + format_number(session.options.peak_window.value(), 0) + " s, " +
                 span_text(session.peak->where));
  }
  if (effort.target)
    if (const auto shift = target_shift(*effort.target))
      page.paragraph("One SD of the maximum moves the target's lower end by " + format_number(shift->low_bpm, 0) +
                     " beats/min and its upper end by " + format_number(shift->high_bpm, 0) + " beats/min" +
                     (effort.target->own_ceiling ? " (the own ceiling holds)." : "."));
}

void add_scheme(TextPage& page, const SessionEffort& session) {
  if (session.scheme_us.empty()) return;
  const IntensityScheme& scheme = *session.options.scheme;
  page.blank().heading("Time by the scheme '" + scheme.name + "', in per cent of the " +
                       (scheme.from_reserve ? "heart-rate reserve" : "maximum heart rate"));
  std::vector<std::vector<std::string>> rows{{"category", "from", "time"}};
  for (std::size_t i = 0; i < scheme.categories.size(); ++i)
    rows.push_back({scheme.categories[i].name, format_number(100.0 * scheme.categories[i].from_fraction, 0) + " %",
                    clock_of(session.scheme_us[i])});
  rows.push_back({"below the first", "", clock_of(session.scheme_us.back())});
  rows.push_back({"not measured", "", clock_of(session.effort.unmeasured_us)});
  page.table(rows);
}

void add_phases(TextPage& page, const SessionEffort& session) {
  if (session.phases.empty()) return;
  const bool marked = session.phases.front().marked || session.phases.back().marked;
  page.blank().heading(marked ? "Phases, as marked (beats/min)" : "Phases, found from the rate itself (beats/min)");
  std::vector<std::vector<std::string>> rows{
      {"phase", "from", "to", "long", "mean", "peak", "heading for", "time constant"}};
  for (std::size_t k = 0; k < session.phases.size(); ++k) {
    const Phase& phase = session.phases[k];
    std::string tau;
    for (const PhaseKinetics& kinetics : session.kinetics)
      if (kinetics.phase == k && kinetics.fit)
        tau = format_number(kinetics.fit->tau.value(), 0) + " s (" + format_number(kinetics.fit->low.value(), 0) +
              " to " + format_number(kinetics.fit->high.value(), 0) + ")";
    rows.push_back({words_of(phase), format_clock(phase.span().start), format_clock(phase.span().end),
                    clock_of(phase.length_us), whole_or_none(phase.mean_rate), whole_or_none(phase.peak_rate),
                    whole_or_none(phase.settling_rate), tau});
  }
  page.table(rows);
  if (!marked)
    page.paragraph(
        "Work is what heads for the upper 30 % between rest and the session's highest, or 60 % of reserve. A time "
        "constant is given only "
        "where the fit deserves it: how long the rate takes for 63 % of a change, with its 95 % interval.");
}

std::string usual(UsualLength length) {
  switch (length) {
    case UsualLength::none: return "none seen";
    case UsualLength::shorter: return "shorter than the 5 to 10 min of common practice";
    case UsualLength::usual: return "within the 5 to 10 min of common practice";
    case UsualLength::longer: break;
  }
  return "longer than the 5 to 10 min of common practice";
}

void add_easing(TextPage& page, const SessionEffort& session) {
  const Easing& easing = session.easing;
  bool work = false;
  for (const Phase& phase : session.phases) work = work || phase.kind == PhaseKind::work;
  if (!work) return;
  page.blank().heading("Start and end");
  page.row("warm-up", format_clock(easing.warm_up), usual(easing.warm_up_length));
  page.row("cool-down", easing.end_seen ? format_clock(easing.cool_down) : "not seen",
           easing.end_seen
               ? usual(easing.cool_down_length) +
                     (easing.cool_down_length == UsualLength::none || easing.warm_up_length == UsualLength::none ? ""
                      : easing.about_equal ? "; about as long as the warm-up"
                                           : "; common practice is about as long as the warm-up")
               : "the recording ends in work");
  if (easing.abrupt_stop)
    page.row("stop", "abrupt", "work went straight over into rest; easing off for some minutes is kinder");
}

void add_recovery(TextPage& page, const SessionEffort& session) {
  if (session.recovery && session.recovery->at_stop) {
    const Recovery& recovery = *session.recovery;
    page.blank().heading("Recovery after the last bout, from " + format_clock(recovery.stop) + " on");
    page.row("at the stop", whole(*recovery.at_stop) + " beats/min", "the last 20 s, carried on to the stop");
    if (recovery.first_minute_fall)
      page.row("first minute", "fell by " + whole(*recovery.first_minute_fall) + " beats/min",
               "to " + whole(*recovery.after_one_minute) + " beats/min");
    if (recovery.second_minute_fall)
      page.row("second minute", "fell by " + whole(*recovery.second_minute_fall) + " beats/min",
               "to " + whole(*recovery.after_two_minutes) + " beats/min");
    page.paragraph(recovery.stood_still
                       ? "A fall compares only with others of the same person in the same position; studies of "
                         "patients are no rule for pupils."
                       : "A cool-down followed, so that the fall says as much about its pace as about the heart.");
  }
  if (!session.drift) return;
  const Drift& drift = *session.drift;
  const bool none = drift.low <= 0 && drift.high >= 0;
  page.blank().heading("Drift in the longest bout, after its third minute (" + span_text(drift.where) + ")");
  page.row("slope", format_number(drift.bpm_per_10_min, 1) + " beats/min in 10 min",
           format_number(drift.low, 1) + " to " + format_number(drift.high, 1) + " with 95 % confidence: " +
               (none            ? "no drift to speak of"
                : drift.low > 0 ? "it rises at a steady task, as in heat or with thirst"
                                : "it falls"));
}

void add_load(TextPage& page, const SessionEffort& session) {
  if (!session.load || (!session.impulse_men && session.load->weighted_minutes <= 0)) return;
  page.blank().heading("Load");
  if (session.impulse_men) {
    const Load& load = *session.load;
    const Sex sex = session.effort.person.sex;
    const auto line = [&](const char* name, const Ranged& integral, const std::optional<double>& mean, bool own) {
      page.row(name, ranged_text(integral, 1, ""),
               std::string(own ? "this person's; " : "") + "from the session's mean: " + format_number(mean, 1));
    };
    line("impulse, men's coefficients", *session.impulse_men, load.mean_impulse_men, sex == Sex::male);
    line("impulse, women's coefficients", *session.impulse_women, load.mean_impulse_women, sex == Sex::female);
  }
  page.row("weighted minutes", ranged_text(*session.weighted_minutes, 1, "min"),
           "tenths of the maximum from 50 % up count 1 to 5 (Edwards 1993)");
  page.paragraph(
      "Impulse: minutes x r x 0.64 e^(1.92 r) for men, 0.86 e^(1.67 r) for women, r the share of reserve (Morton et "
      "al. 1990), added up over "
      "the session. It has no unit. What was not measured adds nothing.");
}

void add_exertion(TextPage& page, const SessionEffort& session) {
  if (session.exertion.empty()) return;
  page.blank().heading("How it felt (6 to 20) beside the heart rate (Garber et al. 2011)");
  for (const ExertionComparison& comparison : session.exertion) {
    const std::string what = comparison.phase ? words_of(session.phases[*comparison.phase]) : "whole session";
    std::string measured = words_of(comparison.measured);
    if (comparison.measured_low != comparison.measured_high)
      measured +=
          std::string(" (") + words_of(comparison.measured_low) + " to " + words_of(comparison.measured_high) + ")";
    page.row(what, std::to_string(comparison.exertion) + ", that is " + words_of(comparison.said),
             "heart rate: " + measured);
  }
}

void add_prompts(TextPage& page, const SessionEffort& session) {
  if (session.prompts.empty()) return;
  page.blank().heading("To look at and talk about (no diagnosis)");
  for (const Warning& prompt : session.prompts) page.paragraph("- " + prompt.message);
}

}  // namespace

std::string session_text(const SessionEffort& session) {
  TextPage page;
  add_effort_page(page, session.effort);
  if (session.effort.mean_rate) {
    add_ranges(page, session);
    add_scheme(page, session);
    add_phases(page, session);
    add_easing(page, session);
    add_recovery(page, session);
    add_load(page, session);
    add_exertion(page, session);
  }
  add_prompts(page, session);
  add_reasons(page, session.effort.reasons);
  page.blank().paragraph(cautions());
  return page.take();
}

}  // namespace pulsewright
