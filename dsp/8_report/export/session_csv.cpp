#include "8_report/text/csv_table.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

void ranged(CsvTable& table, const std::optional<Ranged>& value, int decimals) {
  table.number(value ? std::optional<double>(value->low) : std::nullopt, decimals);
  table.number(value ? std::optional<double>(value->high) : std::nullopt, decimals);
}

std::optional<double> value_of(const std::optional<Ranged>& value) {
  return value ? std::optional<double>(value->value) : std::nullopt;
}

}  // namespace

std::string session_csv(const SessionEffort& session, const NumberStyle& style) {
  const Effort& result = session.effort;
  CsvTable table({"code",
                  "duration_s",
                  "unmeasured_s",
                  "very_light_s",
                  "light_s",
                  "moderate_s",
                  "vigorous_s",
                  "near_maximal_s",
                  "below_target_s",
                  "in_target_s",
                  "above_target_s",
                  "above_ceiling_s",
                  "target_low_bpm",
                  "target_high_bpm",
                  "mean_hr_bpm",
                  "peak_hr_bpm",
                  "mean_reserve_percent",
                  "maximum_hr_bpm",
                  "maximum_source",
                  "resting_hr_bpm",
                  "resting_source",
                  "target_method",
                  "maximum_sd_bpm",
                  "mean_reserve_low_percent",
                  "mean_reserve_high_percent",
                  "in_target_low_s",
                  "in_target_high_s",
                  "moderate_or_harder_s",
                  "moderate_or_harder_low_s",
                  "moderate_or_harder_high_s",
                  "moderate_or_harder_percent",
                  "longest_moderate_s",
                  "peak_window_s",
                  "peak_mean_bpm",
                  "impulse_men",
                  "impulse_women",
                  "mean_impulse_men",
                  "mean_impulse_women",
                  "weighted_min",
                  "first_minute_fall_bpm",
                  "second_minute_fall_bpm",
                  "warm_up_s",
                  "cool_down_s"},
                 style);
  put_effort_cells(table, result);
  table.number(result.maximum ? result.maximum->sd_bpm : std::nullopt, 2);
  ranged(table, session.mean_reserve_percent, 2);
  ranged(table, session.in_target_s, 6);
  table.number(value_of(session.moderate_or_harder_s), 6);
  ranged(table, session.moderate_or_harder_s, 6);
  table.number(session.moderate_or_harder_percent, 2);
  table.number(
      session.longest_moderate ? std::optional<double>(session.longest_moderate->length().value()) : std::nullopt, 6);
  table.number(session.options.peak_window.value(), 3);
  table.number(session.peak ? std::optional<double>(session.peak->rate.value()) : std::nullopt, 2);
  const Load load = session.load.value_or(Load{});
  table.number(load.impulse_men, 2).number(load.impulse_women, 2);
  table.number(load.mean_impulse_men, 2).number(load.mean_impulse_women, 2);
  table.number(session.load ? std::optional<double>(load.weighted_minutes) : std::nullopt, 2);
  table.number(session.recovery ? number_of(session.recovery->first_minute_fall) : std::nullopt, 2);
  table.number(session.recovery ? number_of(session.recovery->second_minute_fall) : std::nullopt, 2);
  table.number(session.easing.warm_up.value(), 6).number(session.easing.cool_down.value(), 6);
  table.end_row();
  return table.take();
}

std::string phases_csv(const SessionEffort& session, const NumberStyle& style) {
  CsvTable table({"code", "phase", "kind", "name", "start_s", "end_s", "unmeasured_s", "mean_bpm", "peak_bpm",
                  "settling_bpm", "exertion", "tau_s", "tau_low_s", "tau_high_s"},
                 style);
  for (std::size_t k = 0; k < session.phases.size(); ++k) {
    const Phase& phase = session.phases[k];
    const TimeConstant* fit = nullptr;
    for (const PhaseKinetics& kinetics : session.kinetics)
      if (kinetics.phase == k && kinetics.fit) fit = &*kinetics.fit;
    table.text(session.effort.person.code)
        .count(static_cast<std::int64_t>(k + 1))
        .text(to_string(phase.kind))
        .text(phase.name);
    table.number(phase.span().start.value(), 6)
        .number(phase.span().end.value(), 6)
        .number(seconds_of(phase.unmeasured_us), 6);
    table.number(number_of(phase.mean_rate), 2)
        .number(number_of(phase.peak_rate), 2)
        .number(number_of(phase.settling_rate), 2);
    table.count(phase.exertion ? std::optional<std::int64_t>(*phase.exertion) : std::nullopt);
    table.number(fit ? std::optional<double>(fit->tau.value()) : std::nullopt, 2);
    table.number(fit ? std::optional<double>(fit->low.value()) : std::nullopt, 2);
    table.number(fit ? std::optional<double>(fit->high.value()) : std::nullopt, 2);
    table.end_row();
  }
  return table.take();
}

std::string course_csv(const SessionEffort& session, const NumberStyle& style) {
  CsvTable table({"code", "start_s", "end_s", "bpm", "reserve_percent"}, style);
  for (const EffortCell& cell : session.cells) {
    table.text(session.effort.person.code).number(seconds_of(cell.start_us), 6);
    table.number(seconds_of(cell.start_us + cell.length_us), 6).number(number_of(cell.rate), 2);
    table.number(cell.rate ? reserve_percent(session.effort, *cell.rate) : std::nullopt, 2);
    table.end_row();
  }
  return table.take();
}

}  // namespace pulsewright
