#include <algorithm>

#include "8_report/page/page_frame.hpp"
#include "class_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {
namespace {

Markup sentences(const ClassComparison& comparison, const Words& words) {
  const auto& members = comparison.members;
  const auto measured = std::count_if(members.begin(), members.end(), [](const ClassMember& member) {
    return member.session && member.session->effort.mean_rate;
  });
  const auto prompted = std::count_if(members.begin(), members.end(), [](const ClassMember& member) {
    return member.session && !member.session->prompts.empty();
  });
  Markup out;
  out.open("ul", {{"class", "summary"}});
  const auto say = [&](const char* key, const std::vector<TracedValue>& values) {
    out.open("li").add(traced_sentence(words, key, values)).close();
  };
  say("class.measured", {{"measured", {words.count(measured), "", ""}},
                         {"all", {words.count(static_cast<std::int64_t>(members.size())), "", ""}}});
  if (comparison.middle_effort_percent)
    say("class.middle",
        {{"percent", traced_number(*comparison.middle_effort_percent, 2, 0, "middle_effort_percent", words)}});
  if (prompted > 0) say("class.prompted", {{"people", {words.counted("people", prompted), "", ""}}});
  if (comparison.options.sort_by != ClassMeasure::code) out.element("li", words("class.place_rule"));
  return out.close();
}

/// Whose effort and performance do not go together.
Markup effort_for_place(const ClassComparison& comparison, const Words& words) {
  const std::string name = measure_words(ClassMeasure::performance, comparison.performance, words);
  Markup list;
  for (const EffortForPlace what : {EffortForPlace::behind_at_limit, EffortForPlace::ahead_at_ease}) {
    Markup people;
    for (std::size_t i = 0; i < comparison.members.size(); ++i) {
      const ClassMember& member = comparison.members[i];
      if (member.effort_for_place != what) continue;
      if (!people.blank()) people.text(", ");
      people.element("strong", member.entry.code).text(" (");
      people.add(traced_markup(traced_number(member.session->mean_reserve_percent->value, 2, 0,
                                             member_key(i, "effort.session.mean_reserve_percent"), words)));
      people.text("\u00a0%)");
    }
    if (people.blank()) continue;
    list.open("li").text(
        words(what == EffortForPlace::ahead_at_ease ? "class.at_ease" : "class.at_limit", {{"measure", name}}) + " ");
    list.add(people).close();
  }
  Markup out;
  if (list.blank()) return out.element("p", words("class.nobody_apart"));
  return out.open("ul").add(list).close();
}

Markup performance(const ClassComparison& comparison, const ClassScales& scales, const Words& words) {
  Markup out;
  const std::optional<Figure> figure = performance_figure(comparison, scales, words);
  if (!figure) return out;
  return out.add(figure_on_page(*figure, words, "h3")).add(effort_for_place(comparison, words));
}

/// The stage says them in English.
Markup prompts(const ClassComparison& comparison, const Words& words) {
  Markup list;
  for (const ClassMember& member : comparison.members) {
    if (!member.session) continue;
    for (const Warning& prompt : member.session->prompts) {
      list.open("li").element("strong", member.entry.code).text(": ");
      list.element("span", {{"lang", "en"}}, prompt.message).close();
    }
  }
  Markup out;
  if (list.blank()) return out;
  return out.element("p", words("class.prompts_lead")).open("ul").add(list).close();
}

Markup warnings_of(const ClassComparison& comparison) {
  Markup list;
  const auto add = [&list](const std::string& code, const Warning& warning) {
    list.open("li").text((code.empty() ? "" : code + ": ") + warning.message + " ").element("code", warning.code);
    list.close();
  };
  for (const Warning& warning : comparison.warnings) add("", warning);
  for (const ClassMember& member : comparison.members)
    if (member.session)
      for (const Warning& warning : member.session->effort.warnings) add(member.entry.code, warning);
  return list;
}

Markup origin(const ClassComparison& comparison, const Words& words) {
  const Provenance& provenance = comparison.provenance;
  const bool defaults = provenance.options.empty() || provenance.options == "{}";
  Markup out;
  out.open("dl", {{"class", "origin"}});
  const auto row = [&](const char* key, const std::string& value) {
    out.element("dt", words(key)).open("dd").element("code", value).close();
  };
  row("origin.input", provenance.input);
  if (!provenance.sha256.empty()) row("origin.sha256", provenance.sha256);
  row("origin.options", defaults ? words("origin.defaults") : provenance.options);
  row("origin.version", provenance.version.empty() ? version() : provenance.version);
  out.close();
  const Markup warnings = warnings_of(comparison);
  if (warnings.blank()) return out;
  out.open("details").element("summary", words("origin.warnings"));
  return out.open("ul", {{"lang", "en"}, {"class", "warnings"}}).add(warnings).close().close();
}

}  // namespace

std::string class_report(const ClassComparison& comparison, Language language) {
  const Words words(language);
  const ClassScales scales = class_scales(comparison);
  const std::string& input = comparison.provenance.input;
  Markup main = page_section("summary", words("section.summary"), sentences(comparison, words));
  Markup ways;
  const auto add_to = [&](Markup& part, const char* id, const Markup& contents) {
    if (contents.blank()) return;
    const std::string heading = words(std::string("section.") + id);
    part.add(page_section(id, heading, contents));
    ways.open("li").element("a", {{"href", std::string("#") + id}}, heading).close();
  };
  const auto add = [&](const char* id, const Markup& contents) { add_to(main, id, contents); };
  if (!comparison.members.empty()) {
    add("people", class_people(comparison, scales, words));
    add("courses", class_courses(comparison, scales, words));
    add("performance", performance(comparison, scales, words));
    add("prompts", prompts(comparison, words));
    add("unmeasured", class_unmeasured(comparison, words));
  }
  add("origin", origin(comparison, words));
  Markup slips;
  if (!comparison.members.empty()) add_to(slips, "slips", class_slips(comparison, scales, words));
  Markup header;
  header.element("h1", words("class.title"));
  header.element(
      "p", {{"class", "quiet"}},
      words("class.header", {{"people", words.counted("people", static_cast<std::int64_t>(comparison.members.size()))},
                             {"input", input}}));
  header.open("nav", {{"aria-label", words("class.ways")}}).open("ul", {{"class", "ways"}}).add(ways).close().close();
  return page_frame(words("class.title_of", {{"input", input}}), header, main, words, slips);
}

}  // namespace pulsewright
