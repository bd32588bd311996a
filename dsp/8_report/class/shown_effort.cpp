#include "8_report/export/effort_parts.hpp"
#include "class_parts.hpp"

namespace pulsewright {

std::optional<ShownEffort> shown_effort(const ClassMember& member, std::size_t position) {
  if (!member.session || !member.session->effort.mean_rate) return std::nullopt;
  ShownEffort shown;
  if (member.compared) {
    const StretchEffort& part = *member.compared;
    shown.mean_reserve_percent = part.mean_reserve_percent;
    shown.in_target_s = part.in_target_s;
    shown.below_target_us = part.below_target_us;
    shown.above_target_us = part.above_target_us;
    shown.length_us = part.length_us;
    shown.unmeasured_us = part.unmeasured_us;
    shown.ranged_key = shown.time_key = member_key(position, "compared.");
    return shown;
  }
  const Effort& effort = member.session->effort;
  shown.mean_reserve_percent = member.session->mean_reserve_percent;
  shown.in_target_s = member.session->in_target_s;
  shown.below_target_us = effort.below_target_us;
  shown.above_target_us = effort.above_target_us;
  shown.length_us = effort.duration_us;
  shown.unmeasured_us = effort.unmeasured_us;
  shown.ranged_key = member_key(position, "effort.session.");
  shown.time_key = member_key(position, "effort.");
  shown.length_name = "duration_s";
  return shown;
}

Markup target_times(const ShownEffort& shown, const Words& words) {
  if (!shown.in_target_s || !shown.below_target_us || !shown.above_target_us) return {};
  const auto clock = [](double seconds, std::string key) {
    return TracedNumber{format_clock(Seconds{seconds}), std::move(key), format_number(seconds, 6)};
  };
  return traced_sentence(
      words, "class.times",
      {{"below", clock(seconds_of(*shown.below_target_us), shown.time_key + "below_target_s")},
       {"inside", clock(shown.in_target_s->value, shown.ranged_key + "in_target_s")},
       {"above", clock(seconds_of(*shown.above_target_us), shown.time_key + "above_target_s")}});
}

}  // namespace pulsewright
