#include <algorithm>

#include "8_report/export/class_words.hpp"
#include "class_parts.hpp"

namespace pulsewright {

Markup class_glance(const ClassComparison& comparison, const Words& words) {
  const auto& members = comparison.members;
  Markup out;
  out.element("p", words("lesson.worked_note"));
  out.open("ul", {{"class", "glance"}});
  for (const ClassMember& member : members) {
    out.open("li").element("strong", member.entry.code);
    if (by_maximum(member)) out.text("\u00a0").element("span", {{"class", "quiet"}}, words("lesson.by_maximum"));
    out.text(" ").element("span", lesson_sentence(member, words));
    if (const std::string place = place_words(comparison, member, words); !place.empty())
      out.text(" ").element("span", {{"class", "quiet"}}, words("class.glance_place", {{"place", place}}));
    out.close();
  }
  out.close();
  if (std::any_of(members.begin(), members.end(), by_maximum))
    out.element("p", {{"class", "quiet"}}, words("lesson.by_maximum_note", {{"mark", words("lesson.by_maximum")}}));
  return out;
}

Markup class_prompts(const ClassComparison& comparison, const Words& words) {
  Markup entries, list;
  for (const ClassFinding& finding : comparison.findings) entries.element("li", finding_sentence(finding, words));
  for (const Warning& warning : comparison.warnings) entries.element("li", {{"lang", "en"}}, warning.message);
  for (const ClassMember& member : comparison.members) {
    if (!member.session) continue;
    for (const Warning& prompt : member.session->prompts) {
      list.open("li").element("strong", member.entry.code).text(": ");
      list.text(prompt_sentence(prompt, words)).close();
    }
  }
  Markup out;
  if (!entries.blank())
    out.element("p", words("class.entries_lead")).open("ul", {{"class", "entries"}}).add(entries).close();
  if (!list.blank()) out.element("p", words("class.prompts_lead")).open("ul").add(list).close();
  return out;
}

Markup class_not_placed(const ClassComparison& comparison, const Words& words) {
  Markup list;
  for (const ClassMember& member : comparison.members) {
    if (member.not_placed == NotPlaced::placed) continue;
    list.open("li").element("strong", member.entry.code).text(": ");
    if (member.failure.empty())
      list.text(not_placed_sentence(member, words));
    else
      list.element("span", {{"lang", "en"}}, member.failure);
    list.close();
  }
  Markup out;
  if (list.blank()) return out;
  return out.element("p", words("class.not_placed_lead")).open("ul").add(list).close();
}

}  // namespace pulsewright
