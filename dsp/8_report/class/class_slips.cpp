#include "8_report/export/effort_parts.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int course_px = 108;
/// Less of the session unmeasured is not worth a sentence; the teacher's table has every second.
constexpr double least_told_share = 0.02;

/// What one person is told, in sentences.
Markup slip_sentences(const ClassMember& member, std::size_t i, const Words& words) {
  const auto key = [i](const char* name) { return member_key(i, std::string("effort.") + name); };
  Markup out;
  if (!member.session || !member.session->effort.mean_rate) return out.element("p", words("slip.nothing"));
  const SessionEffort& session = *member.session;
  const Effort& effort = session.effort;
  const auto say = [&](const char* text, const std::vector<TracedValue>& values) {
    out.open("p").add(traced_sentence(words, text, values)).close();
  };
  const TracedNumber mean = traced_rate(*effort.mean_rate, key("mean_hr_bpm"));
  if (session.peak)
    say("slip.rate",
        {{"mean", mean},
         {"peak", traced_rate(session.peak->rate, key("session.peak.mean_bpm"))},
         {"window", traced_number(session.options.peak_window.value(), 3, 0, key("session.peak_window_s"), words)}});
  else
    say("slip.mean", {{"mean", mean}});
  if (const auto& reserve = session.mean_reserve_percent) {
    out.open("p").text(words("slip.reserve") + " ").open("strong").add(ranged_percent(*reserve, i, words)).text(" %");
    out.close().text(" " + words("slip.reserve_means")).close();
  }
  if (effort.target && effort.in_target_us)
    say("slip.target", {{"low", traced_rate(effort.target->low, key("target.low_bpm"))},
                        {"high", traced_rate(effort.target->high, key("target.high_bpm"))},
                        {"inside", traced_length(*effort.in_target_us, key("in_target_s"), words)},
                        {"length", traced_length(effort.duration_us, key("duration_s"), words)}});
  if (session.recovery && session.recovery->first_minute_fall && session.recovery->stood_still &&
      session.recovery->first_minute_fall->value() > 0)
    say("slip.fall",
        {{"fall", traced_rate(*session.recovery->first_minute_fall, key("session.recovery.first_minute_fall_bpm"))}});
  if (static_cast<double>(effort.unmeasured_us) > least_told_share * static_cast<double>(effort.duration_us))
    say("slip.unmeasured", {{"unmeasured", traced_length(effort.unmeasured_us, key("unmeasured_s"), words)}});
  return out;
}

Markup felt(const ClassMember& member, const Words& words) {
  Markup out;
  out.open("p", {{"class", "felt"}});
  if (member.entry.exertion)
    out.text(words("slip.felt_noted", {{"exertion", words.count(*member.entry.exertion)}}));
  else
    out.text(words("slip.felt") + " ").element("span", {{"class", "blank"}}, "");
  return out.close();
}

}  // namespace

Markup class_slips(const ClassComparison& comparison, const ClassScales& scales, const Words& words) {
  Markup out;
  out.element("p", {{"class", "screen-only"}, {"id", "slips-note"}, {"data-print", words("slip.print")}},
              words("slip.note"));
  out.open("div", {{"class", "slips"}});
  for (std::size_t i = 0; i < comparison.members.size(); ++i) {
    const ClassMember& member = comparison.members[i];
    out.open("article", {{"class", "slip"}}).open("div", {{"class", "told"}});
    out.element("h3", member.entry.code);
    if (!member.entry.activity.empty()) out.element("p", {{"class", "quiet"}}, member.entry.activity);
    out.add(slip_sentences(member, i, words)).add(felt(member, words)).close();
    out.open("figure").element("p", {{"class", "y-title"}}, words("slip.course"));
    out.add(course_frame(course_figure(member, scales, course_px, words)));
    out.close();
    out.element("p", {{"class", "quiet foot"}}, words("slip.foot")).close();
  }
  return out.close();
}

}  // namespace pulsewright
