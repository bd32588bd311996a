#include "8_report/export/class_words.hpp"
#include "8_report/export/effort_parts.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int course_px = 108;
/// Less of the session unmeasured is not worth a sentence; the teacher's table has every second.
constexpr double least_told_share = 0.02;

bool whose_is_in_doubt(const ClassMember& member) {
  return member.not_placed == NotPlaced::shared_recording || member.not_placed == NotPlaced::code_twice ||
         member.not_placed == NotPlaced::rate_hz_doubtful;
}

/// Effort and the times below, in and above the target, over what the class is compared over.
void add_judgement(Markup& out, const ClassMember& member, std::size_t i, const Words& words) {
  const ShownEffort shown = *shown_effort(member, i);
  const Effort& effort = member.session->effort;
  const auto key = [i](const char* name) { return member_key(i, std::string("effort.") + name); };
  if (const auto& reserve = shown.mean_reserve_percent) {
    out.open("p").text(words("slip.reserve") + " ").open("strong");
    out.add(ranged_percent(*reserve, shown.ranged_key, words)).text(" %");
    out.close().text(" " + words("slip.reserve_means")).close();
  }
  const Markup times = target_times(shown, words);
  if (!effort.target || times.blank()) return;
  out.open("p").add(traced_sentence(words, "slip.target",
                                    {{"low", traced_rate(effort.target->low, key("target.low_bpm"))},
                                     {"high", traced_rate(effort.target->high, key("target.high_bpm"))},
                                     {"length", traced_length(shown.length_us, shown.time_key + shown.length_name,
                                                              words)}}));
  out.text(" ").add(times).text(".").close();
  if (!effort.target->from_reserve) out.element("p", words("slip.by_maximum"));
}

/// What one person is told, in sentences.
Markup slip_sentences(const ClassMember& member, std::size_t i, const Words& words) {
  const auto key = [i](const char* name) { return member_key(i, std::string("effort.") + name); };
  Markup out;
  if (!member.session || !member.session->effort.mean_rate) return out.element("p", words("slip.nothing"));
  if (whose_is_in_doubt(member)) return out.element("p", words("slip.doubt"));
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
  // Of an effort that rests on a wrong resting rate, or on too little, nothing is said; why, is.
  if (is_judged(member))
    add_judgement(out, member, i, words);
  else
    out.element("p", words("slip.not_said", {{"why", not_placed_sentence(member, words)}}));
  if (session.recovery && session.recovery->first_minute_fall && session.recovery->stood_still &&
      session.recovery->first_minute_fall->value() > 0)
    say("slip.fall",
        {{"fall", traced_rate(*session.recovery->first_minute_fall, key("session.recovery.first_minute_fall_bpm"))}});
  if (static_cast<double>(effort.unmeasured_us) > least_told_share * static_cast<double>(effort.duration_us))
    say("slip.unmeasured", {{"unmeasured", traced_length(effort.unmeasured_us, key("unmeasured_s"), words)}});
  return out;
}

/// Which lesson it was, and when; a line to write on where the recording does not say.
void lesson_line(Markup& out, const ClassComparison& comparison, const ClassMember& member, const Words& words) {
  std::string lesson = comparison.provenance.input;
  lesson = lesson.substr(0, lesson.find_last_of('.'));
  out.open("p", {{"class", "quiet lesson"}}).text(lesson + ", ");
  if (!member.date.empty())
    out.text(member.date);
  else
    out.text(words("slip.date") + " ").element("span", {{"class", "blank"}}, "");
  out.close();
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
    lesson_line(out, comparison, member, words);
    if (!member.entry.activity.empty()) out.element("p", {{"class", "quiet"}}, member.entry.activity);
    out.add(slip_sentences(member, i, words)).add(felt(member, words)).close();
    if (!whose_is_in_doubt(member)) {
      out.open("figure").element("p", {{"class", "y-title"}}, words("slip.course"));
      out.add(course_frame(course_figure(member, scales, course_px, words)));
      out.close();
    }
    out.element("p", {{"class", "quiet foot"}}, words("slip.foot")).close();
  }
  return out.close();
}

}  // namespace pulsewright
