#include <algorithm>
#include <array>
#include <cmath>

#include "8_report/page/page_frame.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {
namespace {

constexpr std::array phase_order{PhaseKind::warm_up, PhaseKind::work, PhaseKind::pause, PhaseKind::cool_down};

/// Perceived exertion of a kind of phase, in whole numbers: light effort is 9 to 11, the target moderate and vigorous, 12 to 17 (Garber et al. 2011, MSSE
/// 43:1334); a warm-up rises to the lower end of the target.
struct Exertion {
  int low, high;
};
Exertion exertion_of(PhaseKind kind) {
  switch (kind) {
    case PhaseKind::work: return {12, 17};
    case PhaseKind::warm_up: return {9, 12};
    case PhaseKind::rest:
    case PhaseKind::pause:
    case PhaseKind::cool_down: break;
  }
  return {9, 11};
}

std::string kind_words(PhaseKind kind, const Words& words) { return words(std::string("phase.") + to_string(kind)); }

std::string range_words(long low, long high, const Words& words) {
  return words("plan.range", {{"low", words.count(low)}, {"high", words.count(high)}});
}

/// Beats to count in `seconds`: whole, and inside the band where whole counts lie in it, else the nearest.
std::string counted(const PlanPhase& phase, int seconds, const Words& words) {
  const double share = seconds / 60.0;
  const auto low = static_cast<long>(std::ceil(share * static_cast<double>(whole_beats(phase.low))));
  const auto high = static_cast<long>(std::floor(share * static_cast<double>(whole_beats(phase.high))));
  if (low > high) return words.count(std::lround(share * 0.5 * (phase.low + phase.high).value()));
  return low == high ? words.count(low) : range_words(low, high, words);
}

void head_row(Markup& out, const Words& words, std::initializer_list<const char*> keys) {
  out.open("thead").open("tr");
  for (const char* key : keys) out.element("th", {{"scope", "col"}}, words(key));
  out.close().close();
}

/// The course of the lesson, the same for everybody, in letters to be read across a hall.
Markup wall(const std::vector<PlanPhase>& course, const Words& words) {
  Markup out;
  out.open("table", {{"class", "wall"}});
  head_row(out, words, {"plan.clock", "plan.phase", "plan.long", "plan.feels"});
  out.open("tbody");
  for (const PlanPhase& phase : course) {
    const Exertion exertion = exertion_of(phase.kind);
    out.open("tr", {{"class", phase.kind == PhaseKind::work ? "work" : ""}});
    out.element("th", {{"scope", "row"}},
                words("plan.from_to",
                      {{"from", format_clock(phase.span.start)}, {"to", format_clock(phase.span.end)}}));
    out.element("td", kind_words(phase.kind, words)).element("td", words.length(phase.span.length()));
    out.element("td", range_words(exertion.low, exertion.high, words)).close();
  }
  return out.close().close();
}

/// Numbers of perceived exertion under the words of the intensity that they stand for.
Markup exertion_scale(const Words& words) {
  Markup out;
  out.element("p", words("plan.scale")).open("ol", {{"class", "exertion-scale"}});
  for (int number = least_exertion; number <= most_exertion;) {
    const Intensity intensity = intensity_of_exertion(number);
    std::string numbers;
    for (; number <= most_exertion && intensity_of_exertion(number) == intensity; ++number)
      numbers += (numbers.empty() ? "" : "\u2002") + words.count(number);
    out.open("li").element("strong", numbers);
    out.text(" ").element("span", words(std::string("intensity.") + to_string(intensity))).close();
  }
  return out.close();
}

const PlanPhase* phase_of(const std::vector<PlanPhase>& plan, PhaseKind kind) {
  const auto found = std::find_if(plan.begin(), plan.end(), [&](const PlanPhase& p) { return p.kind == kind; });
  return found == plan.end() ? nullptr : &*found;
}

Markup card(const PersonTarget& row, const PlanDurations& durations, const Words& words) {
  Markup out;
  out.open("article", {{"class", "card"}}).element("h3", row.person.code.empty() ? words("plan.you") : row.person.code);
  if (!row.target) return out.element("p", words("plan.no_band")).close();
  const std::vector<PlanPhase> plan = session_plan(*row.target, durations);
  out.open("table");
  head_row(out, words, {"plan.phase", "plan.bpm", "plan.ten", "plan.fifteen"});
  out.open("tbody");
  for (const PhaseKind kind : phase_order) {
    const PlanPhase* phase = phase_of(plan, kind);
    if (phase == nullptr) continue;
    out.open("tr", {{"class", kind == PhaseKind::work ? "work" : ""}});
    out.element("th", {{"scope", "row"}}, kind_words(kind, words));
    out.element("td", {{"class", "number"}}, range_words(whole_beats(phase->low), whole_beats(phase->high), words));
    out.element("td", {{"class", "number"}}, counted(*phase, 10, words));
    out.element("td", {{"class", "number"}}, counted(*phase, 15, words)).close();
  }
  out.close().close();
  if (row.target->own_ceiling)
    out.element("p", words("plan.ceiling", {{"bpm", words.count(whole_beats(*row.target->own_ceiling))}}));
  if (!row.target->from_reserve) out.element("p", {{"class", "quiet"}}, words("plan.by_maximum"));
  return out.element("p", {{"class", "quiet"}}, words("plan.stop")).close();
}

Markup notes(const TargetTable& table, const Words& words) {
  Markup list;
  for (const PersonTarget& row : table.people)
    if (!row.target) {
      list.open("li").element("strong", row.person.code).text(": ");
      list.element("span", {{"lang", "en"}}, row.reason).close();
    }
  for (const Warning& warning : table.warnings) list.element("li", {{"lang", "en"}}, warning.message);
  Markup out;
  if (list.blank()) return out;
  return out.element("p", words("plan.notes_lead")).open("ul").add(list).close();
}

}  // namespace

std::string plan_report(const TargetTable& table, const PlanDurations& durations, Language language) {
  const Words words(language);
  const auto with_target =
      std::find_if(table.people.begin(), table.people.end(), [](const PersonTarget& row) { return row.target.has_value(); });
  Markup header, main, cards;
  header.element("h1", words("plan.title"));
  if (with_target == table.people.end()) {
    main.add(page_section("summary", words("section.summary"), Markup().element("p", words("plan.nobody"))));
    main.add(page_section("notes", words("plan.notes"), notes(table, words)));
    return page_frame(words("plan.title"), header, main, words);
  }
  const std::vector<PlanPhase> course = session_plan(*with_target->target, durations);
  header.element("p", {{"class", "quiet"}},
                 words("plan.lead", {{"length", words.length(course.back().span.end)},
                                     {"people", words.counted("people", static_cast<std::int64_t>(table.people.size()))}}));
  main.add(page_section("summary", words("plan.wall"), Markup(wall(course, words)).add(exertion_scale(words))));
  if (const Markup said = notes(table, words); !said.blank()) main.add(page_section("notes", words("plan.notes"), said));
  cards.element("p", {{"class", "screen-only"}}, words("plan.cards_note")).open("div", {{"class", "cards"}});
  for (const PersonTarget& row : table.people) cards.add(card(row, durations, words));
  cards.close();
  return page_frame(words("plan.title"), header, main, words, page_section("cards", words("plan.cards"), cards));
}

}  // namespace pulsewright
