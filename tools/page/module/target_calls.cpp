/// What to aim for: targets and plans of a roster, and a pulse counted by hand.
#include <string>

#include "calls.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/plan.hpp"
#include "pulsewright/resting.hpp"
#include "pulsewright/roster.hpp"

namespace pulsewright::page {

Json targets(const Json& asked) {
  const Request request = with_options({}, options_of(asked));
  TargetTable table = target_table(read_roster(text_of(asked, "roster")), request.effort);
  Json options = Json::parse(options_json(request));
  const std::string plan = text_of(asked, "plan");
  if (!plan.empty()) options["plan"] = plan;
  table.provenance.options = options.dump();
  Json reply = {{"targets", Json::parse(target_table_json(table))}, {"csv", target_table_csv(table)}};
  if (plan.empty()) return reply;
  const PlanDurations durations = plan_durations(plan);
  reply["plan"] = Json::parse(plan_json(table, durations));
  reply["plan_csv"] = plan_csv(table, durations);
  return reply;
}

Json counted(const Json& asked) {
  RestingCount count;
  count.beats = asked.at("beats").get<int>();
  count.length = Seconds{asked.at("seconds").get<double>()};
  count.start = text_of(asked, "from") == "beat" ? CountStart::on_a_beat : CountStart::any_moment;
  const CountedResting counted = counted_resting(count);
  return {{"bpm", counted.rate.value()},
          {"per_beat_bpm", counted.per_beat.value()},
          {"bias_bpm", counted.bias_bpm},
          {"rms_error_bpm", counted.rms_error_bpm}};
}

}  // namespace pulsewright::page
