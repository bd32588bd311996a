#include <algorithm>
#include <cmath>
#include <map>

#include "excerpt_choice.hpp"
#include "flagged_runs.hpp"
#include "session_figures.hpp"
#include "signal_drawing.hpp"

namespace pulsewright {
namespace {

constexpr Seconds page_length{10};
/// Up to so many pages all are there: somewhat over half an hour.
constexpr std::size_t most_pages = 200;
/// A longer recording is shown in about so many.
constexpr std::size_t spread_pages = 48;

constexpr int height_px = 120;
/// Below the signal: the marks of beats, those of rejected candidates, the intervals in ms, what was found wrong with them.
constexpr int lane_px = 88;
constexpr int mark_px = 11, rejected_px = 25, interval_px = 48, verdict_px = 66;
constexpr int most_steps = 3;
/// There is no room for the length of a shorter interval.
constexpr Seconds least_labelled{0.35};
/// Beats less sure than this are marked as doubtful.
constexpr double doubtful = 0.9;

const BeatVerdict rejections[] = {BeatVerdict::too_soon,  BeatVerdict::repolarisation, BeatVerdict::weak,
                                  BeatVerdict::reflected, BeatVerdict::unreadable,     BeatVerdict::off_rhythm};

std::string mark_of(const Beat& beat) {
  if (beat.verdict == BeatVerdict::accepted) return beat.confidence < doubtful ? "mark-doubtful" : "mark-accepted";
  return std::string("mark-") + to_string(beat.verdict);
}

/// What happens on one page, found without a search through the whole recording.
struct PageContents {
  std::vector<Beat> candidates;
  std::vector<Interval> intervals;
};

std::vector<PageContents> contents_of_pages(const Analysis& analysis, std::size_t pages) {
  std::vector<PageContents> contents(pages);
  const auto page_of = [pages](Seconds time) {
    return static_cast<std::size_t>(std::clamp(std::floor(time / page_length), 0.0, static_cast<double>(pages - 1)));
  };
  for (const Beat& beat : analysis.beats.candidates) contents[page_of(beat.time)].candidates.push_back(beat);
  for (const Interval& interval : analysis.intervals.intervals) {
    const Seconds middle = (interval.start + interval.end) / 2;
    contents[page_of(middle)].intervals.push_back(interval);
  }
  return contents;
}

void draw_beats(Plot& plot, const std::vector<Beat>& candidates, const AxisRange& range) {
  std::vector<Plot::Stroke> lines;
  for (const Beat& beat : candidates) {
    const double time = beat.time.value();
    if (beat.verdict == BeatVerdict::accepted) lines.push_back({time, range.low, range.high});
    if (beat.verdict == BeatVerdict::accepted)
      plot.symbol(mark_of(beat).c_str(), time, height_px + mark_px, "symbol");
    else
      plot.symbol(mark_of(beat).c_str(), time, height_px + rejected_px, "symbol rejected");
  }
  plot.strokes(lines, "beat");
}

void draw_intervals(Plot& plot, const std::vector<Interval>& intervals, Span page, const Words& words) {
  draw_flagged_runs(plot, intervals, height_px + interval_px - 12, height_px + verdict_px, words);
  // The length stands in the middle of what is seen of the interval.
  for (const Interval& interval : intervals) {
    const Seconds from = std::max(interval.start, page.start), to = std::min(interval.end, page.start + page_length);
    if (to - from > least_labelled)
      plot.label(words.number(interval.original_ms, 0), ((from + to) / 2).value(), height_px + interval_px, "middle",
                 "ms");
  }
}

std::string describe(const PageContents& contents, Span span, const Words& words) {
  std::map<BeatVerdict, int> counts;
  for (const Beat& beat : contents.candidates) ++counts[beat.verdict];
  std::string text = words("strip.alt", {{"from", format_clock(span.start)},
                                         {"to", format_clock(span.end)},
                                         {"beats", words.count(counts[BeatVerdict::accepted])}});
  for (const BeatVerdict verdict : rejections)
    if (counts[verdict] > 0)
      text += "; " + words(std::string("verdict.") + to_string(verdict)) + ": " + words.count(counts[verdict]);
  std::map<IntervalVerdict, int> flagged;
  for (const Interval& interval : contents.intervals)
    if (interval.verdict != IntervalVerdict::normal) ++flagged[interval.verdict];
  for (const auto& [verdict, count] : flagged)
    text += "; " + words(std::string("interval.") + to_string(verdict)) + ": " + words.count(count);
  return text + ".";
}

Figure page_figure(const PageContents& contents, Span span, const Analysis& analysis, const Signal& signal,
                   const std::string& unit, const Words& words) {
  const SignalExcerpt excerpt = excerpt_of(signal, span);
  const AxisRange range = range_of(excerpt.values, most_steps);
  const AxisRange time{span.start.value(), span.start.value() + page_length.value()};
  Figure figure;
  figure.title = words("strip.page", {{"from", format_clock(span.start)}, {"to", format_clock(span.end)}});
  figure.alt = describe(contents, span, words);
  figure.y_title = unit.empty() ? words("unit.none") : unit;
  figure.scrolls = true;
  Plot plot(time, range, height_px, lane_px);
  plot.x_axis(clock_ticks(time), words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  for (const Span& unreadable : analysis.beats.unreadable)
    if (unreadable.start < span.end && span.start < unreadable.end)
      plot.stretch(std::max(unreadable.start, span.start).value(), std::min(unreadable.end, span.end).value(),
                   "missing");
  draw_beats(plot, contents.candidates, range);
  draw_signal(plot, excerpt, "signal");
  draw_intervals(plot, contents.intervals, span, words);
  plot.lane_name(height_px + interval_px, "ms");
  plot.finish(figure);
  return figure;
}

}  // namespace

std::vector<StripPage> strip_pages(const Analysis& analysis, const Recording& recording, const ChosenSignals& chosen,
                                   const Words& words) {
  const Seconds duration = analysis.beats.duration;
  const auto count = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(duration / page_length)));
  const auto excerpts = choose_excerpts(analysis, chosen, page_length);
  const std::vector<PageContents> contents = contents_of_pages(analysis, count);
  const std::size_t every = count <= most_pages ? 1 : (count + spread_pages - 1) / spread_pages;
  const Channel& channel = recording.channels[chosen.channels.front()];
  std::vector<StripPage> pages;
  for (std::size_t k = 0; k < count; ++k) {
    const auto why = excerpts.find(k);
    if (why == excerpts.end() && k % every != 0) continue;
    StripPage page;
    page.span.start = static_cast<double>(k) * page_length;
    page.span.end = std::min(page.span.start + page_length, std::max(duration, page.span.start));
    if (why != excerpts.end())
      for (const ExcerptReason reason : why->second)
        page.reasons.push_back(words(std::string("strip.why.") + to_string(reason)));
    page.figure = page_figure(contents[k], page.span, analysis, chosen.signals.front(), channel.unit, words);
    page.figure.id = "strip-" + std::to_string(k);
    pages.push_back(std::move(page));
  }
  return pages;
}

std::vector<LegendEntry> strip_legend(BeatSource source, const Words& words) {
  std::vector<LegendEntry> legend{{LegendEntry::Swatch::symbol, "mark-accepted", words("verdict.accepted")},
                                  {LegendEntry::Swatch::symbol, "mark-doubtful",
                                   words("verdict.doubtful", {{"percent", words.number(100 * doubtful, 0)}})}};
  for (const BeatVerdict verdict : rejections) {
    if (verdict == BeatVerdict::repolarisation && source != BeatSource::ecg) continue;
    if (verdict == BeatVerdict::reflected && source != BeatSource::pulse) continue;
    legend.push_back({LegendEntry::Swatch::symbol, std::string("mark-") + to_string(verdict),
                      words(std::string("verdict.") + to_string(verdict))});
  }
  legend.push_back({LegendEntry::Swatch::area, "flagged", words("strip.flagged")});
  return legend;
}

}  // namespace pulsewright
