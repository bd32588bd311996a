#include <algorithm>
#include <cmath>

#include "8_report/page/page_frame.hpp"
#include "elementary/elementary.hpp"
#include "excerpt_choice.hpp"
#include "session_figures.hpp"
#include "workings_figures.hpp"

namespace pulsewright {
namespace {

constexpr Seconds length{10};
/// Odds beyond these are not worth their digits.
constexpr double most_odds = 1000, least_odds = 0.001;

/// The page of the strip that teaches most: doubtful intervals before rejected candidates before the highest rate.
Span instructive_stretch(const SessionView& session) {
  const auto excerpts = choose_excerpts(session.analysis, *session.chosen, length);
  std::size_t page = excerpts.begin()->first;
  for (const ExcerptReason wanted : {ExcerptReason::hardest, ExcerptReason::most_rejected, ExcerptReason::most_flagged})
    for (const auto& [number, reasons] : excerpts)
      if (std::find(reasons.begin(), reasons.end(), wanted) != reasons.end()) page = number;
  const Seconds start = static_cast<double>(page) * length;
  return {start, start + length};
}

/// Whole where it is whole.
std::string rate_text(Hertz rate, const Words& words) {
  constexpr double rounding = 0.005;
  return words.number(rate.value(), std::abs(rate.value() - std::round(rate.value())) < rounding ? 0 : 2);
}

std::string odds_text(double log_odds, const Words& words) {
  const double odds = elementary::exp(log_odds);
  if (odds > most_odds) return words("workings.judge.odds_above", {{"limit", words.number(most_odds, 0)}});
  if (odds < least_odds) return words("workings.judge.odds_below", {{"limit", words.number(least_odds, 3)}});
  return words.number(odds, odds < 0.1 ? 3 : odds < 10 ? 2 : 0);
}

/// As the time axes say it, with ms: `1:30.470`.
std::string precise_clock(Seconds time, const Words& words) {
  constexpr double ms_per_s = 1000;
  const Seconds whole{std::floor(std::round(time.value() * ms_per_s) / ms_per_s)};
  return format_clock(whole) + words.number(std::max((time - whole).value(), 0.0), 3).substr(1);
}

Markup candidates_table(const DetectionTrace& trace, const Words& words) {
  Markup out;
  if (trace.candidates.empty()) return out.element("p", words("workings.judge.none"));
  double largest = 0;
  for (const TracedCandidate& candidate : trace.candidates) largest = std::max(largest, candidate.size);
  // Three significant digits of the largest.
  const int decimals = largest > 0 ? std::clamp(2 - static_cast<int>(std::floor(elementary::log10(largest))), 0, 6) : 0;
  out.open("div", {{"class", "wide-table scrolls"},
                   {"tabindex", "0"},
                   {"role", "group"},
                   {"aria-label", words("workings.judge.title")}});
  out.open("table").open("thead").open("tr");
  out.element("th", {{"scope", "col"}, {"class", "number"}}, words("workings.judge.time"));
  out.element("th", {{"scope", "col"}}, words("workings.judge.verdict"));
  for (const char* column : {"size", "usual", "odds"})
    out.element("th", {{"scope", "col"}, {"class", "number"}}, words(std::string("workings.judge.") + column));
  out.close().close().open("tbody");
  for (const TracedCandidate& candidate : trace.candidates) {
    out.open("tr", {{"class", candidate.verdict == BeatVerdict::accepted ? "" : "rejected"}});
    out.element("th", {{"scope", "row"}, {"class", "number"}}, precise_clock(candidate.time, words));
    out.element("td", words(std::string("verdict.") + to_string(candidate.verdict)));
    out.element("td", {{"class", "number"}}, words.number(candidate.size, decimals));
    out.element("td", {{"class", "number"}}, words.number(candidate.usual, decimals));
    out.element("td", {{"class", "number"}}, odds_text(candidate.log_odds, words)).close();
  }
  return out.close().close().close();
}

/// One step: its heading, what it does, and what it made of the seconds shown.
Markup step(const Figure& figure, const std::string& text, const Words& words) {
  Markup contents;
  contents.element("p", text).add(figure_on_page(figure, words, nullptr));
  return page_section(figure.id.c_str(), figure.title, contents);
}

std::string filter_text(const Workings& workings, const FindOptions& options) {
  const Words& words = workings.words;
  if (options.streaming) return words("workings.filtered.causal");
  const ConditionOptions& filter = options.condition;
  std::string text = workings.chosen.kind == ChannelKind::ecg
                         ? words("workings.filtered.ecg", {{"low", words.number(filter.ecg_baseline.value(), 2)}})
                         : words("workings.filtered.pulse", {{"low", words.number(filter.pulse_baseline.value(), 2)},
                                                             {"high", words.number(filter.pulse_top.value(), 0)}});
  if (workings.first_signal().mains) {
    text += ' ';
    text += words("workings.filtered.mains", {{"hz", words.number(workings.first_signal().mains->value(), 0)}});
  }
  return text;
}

Markup steps(const Workings& workings, const FindOptions& options) {
  const Words& words = workings.words;
  const Channel& channel = workings.first_channel();
  const DetectionTrace trace = detection_trace(workings.chosen, workings.stretch, options);
  Markup main;
  const Figure stored = stored_samples_figure(workings);
  main.add(step(
      stored,
      words("workings.raw.text", {{"channel", channel.name},
                                  {"count", words.count(std::count(stored.csv.begin(), stored.csv.end(), '\n') - 1)},
                                  {"rate", rate_text(channel.rate, words)}}),
      words));
  main.add(step(filtered_figure(workings), filter_text(workings, options), words));
  const bool ecg = workings.chosen.kind == ChannelKind::ecg;
  main.add(
      step(detection_figure(workings, trace), words(ecg ? "workings.detect.ecg" : "workings.detect.pulse"), words));
  Markup judged;
  judged.element("p", words("workings.judge.text"));
  judged.add(legend_list(strip_legend(workings.analysis.beats.source, words))).add(candidates_table(trace, words));
  main.add(page_section("judgement", words("workings.judge.title"), judged));
  main.add(step(beats_figure(workings), words("workings.beats.text"), words));
  main.add(step(cleaning_figure(workings), words("workings.intervals.text"), words));
  const RateOptions& rate = workings.analysis.rates.options;
  main.add(step(windows_figure(workings),
                words("workings.rate.text",
                      {{"window", words.number(rate.window.value(), 0)}, {"step", words.number(rate.step.value(), 0)}}),
                words));
  return main.element("p", words("workings.same"));
}

}  // namespace

std::string workings_page(const SessionView& session, const FindOptions& options, Language language) {
  if (session.recording == nullptr || session.chosen == nullptr || session.chosen->signals.empty())
    throw Error(ErrorCode::contract, "the workings can only be shown of a recording with its signals");
  const Words words(language);
  const Workings workings{session.analysis, *session.recording, *session.chosen, instructive_stretch(session), words};
  Markup header;
  header.element("h1", words("workings.title"));
  header.element("p", {{"class", "quiet"}}, words("page.file", {{"input", session.analysis.beats.provenance.input}}));
  header.element("p", {{"id", "summary"}},
                 words("workings.lead", {{"length", words.length(length)},
                                         {"from", format_clock(workings.stretch.start)},
                                         {"to", format_clock(workings.stretch.end)}}));
  return page_frame(words("workings.title"), header, steps(workings, options), words);
}

}  // namespace pulsewright
