#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 320;
constexpr int most_steps = 5, most_across = 8;
/// With more people only those that the text speaks of are named.
constexpr std::size_t most_named = 12;
// People of one performance stand side by side: so far apart at most, and in so much of the way to the next performance.
constexpr double apart_share = 0.014, used_gap = 0.6;
/// Room that names are kept apart by, on a plot as wide as a tablet's.
constexpr double plot_px = 560, letter_px = 7.5, line_height_px = 15, name_above_px = 11, mark_px = 5;

struct Placed {
  const ClassMember* member = nullptr;
  double across = 0;  ///< where it is drawn
  const Ranged* effort = nullptr;
};

const char* symbol_of(EffortForPlace what) {
  switch (what) {
    case EffortForPlace::ahead_at_ease: return "mark-ease";
    case EffortForPlace::behind_at_limit: return "mark-limit";
    case EffortForPlace::unclear: break;
  }
  return "mark-person";
}

std::vector<Placed> placed_members(const ClassComparison& comparison, const AxisRange& across) {
  std::map<double, std::vector<Placed>> by_performance;
  for (const ClassMember& member : comparison.members)
    if (member.entry.performance && member.session && member.session->mean_reserve_percent)
      by_performance[*member.entry.performance].push_back(
          {&member, *member.entry.performance, &*member.session->mean_reserve_percent});
  double gap = across.length();
  std::size_t most = 1;
  for (auto place = by_performance.begin(); place != by_performance.end(); ++place) {
    most = std::max(most, place->second.size());
    if (std::next(place) != by_performance.end()) gap = std::min(gap, std::next(place)->first - place->first);
  }
  const double apart = std::min(apart_share * across.length(), used_gap * gap / static_cast<double>(most));
  std::vector<Placed> placed;
  for (auto& [performance, members] : by_performance) {
    std::stable_sort(members.begin(), members.end(),
                     [](const Placed& a, const Placed& b) { return a.effort->value < b.effort->value; });
    for (std::size_t k = 0; k < members.size(); ++k) {
      members[k].across += apart * (static_cast<double>(k) - 0.5 * static_cast<double>(members.size() - 1));
      placed.push_back(members[k]);
    }
  }
  return placed;
}

/// Names that do not meet, those that the text speaks of first.
void draw_names(Plot& plot, const std::vector<Placed>& placed, const AxisRange& across, const AxisRange& down) {
  struct Box {
    double left, right, foot;
  };
  std::vector<Box> taken;  // first by the marks themselves
  for (const Placed& one : placed) {
    const double middle = plot_px * (one.across - across.low) / across.length();
    const double foot = height_px * (1 - (one.effort->value - down.low) / down.length()) + mark_px;
    taken.push_back({middle - mark_px, middle + mark_px, foot});
  }
  for (const bool spoken_of : {true, false}) {
    if (!spoken_of && placed.size() > most_named) break;
    for (const Placed& one : placed) {
      if ((one.member->effort_for_place != EffortForPlace::unclear) != spoken_of) continue;
      const std::string& code = one.member->entry.code;
      const double middle = plot_px * (one.across - across.low) / across.length();
      const double half = 0.5 * letter_px * static_cast<double>(code.size());
      const double foot =
          height_px * (1 - (std::min(one.effort->high, down.high) - down.low) / down.length()) - name_above_px;
      const bool met = std::any_of(taken.begin(), taken.end(), [&](const Box& box) {
        return box.left < middle + half && middle - half < box.right && std::abs(box.foot - foot) < line_height_px;
      });
      if (met || foot < line_height_px) continue;
      taken.push_back({middle - half, middle + half, foot});
      plot.label(code, one.across, foot, "middle", "inside wide");
    }
  }
}

std::string performance_csv(const std::vector<Placed>& placed, const std::string& name, const Words& words) {
  CsvTable table({"code", name, "mean_reserve_percent", "mean_reserve_low_percent", "mean_reserve_high_percent",
                  "effort_for_place"},
                 words.numbers());
  for (const Placed& one : placed)
    table.text(one.member->entry.code)
        .number(one.member->entry.performance, 3)
        .number(one.effort->value, 2)
        .number(one.effort->low, 2)
        .number(one.effort->high, 2)
        .text(to_string(one.member->effort_for_place))
        .end_row();
  return table.take();
}

}  // namespace

std::optional<Figure> performance_figure(const ClassComparison& comparison, const ClassScales& scales,
                                         const Words& words) {
  if (comparison.performance.name.empty()) return std::nullopt;
  std::vector<double> values;
  for (const ClassMember& member : comparison.members)
    if (member.entry.performance && member.session && member.session->mean_reserve_percent)
      values.push_back(*member.entry.performance);
  if (values.size() < 2) return std::nullopt;
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  // Room beside the outermost, so that nobody stands on the edge.
  const double room = std::max(0.06 * (*most - *least), 1e-3);
  const AxisRange across = rounded_out({*least - room, *most + room}, most_across);
  const std::vector<Placed> placed = placed_members(comparison, across);
  const std::string name = measure_words(ClassMeasure::performance, comparison.performance, words);

  Figure figure;
  figure.id = "performance";
  figure.title = words("class.performance_title", {{"measure", name}});
  figure.y_title = words("class.effort_axis");
  figure.caption = words(comparison.performance.more_is_better ? "class.performance_more" : "class.performance_less");
  Plot plot(across, scales.effort_percent, height_px);
  plot.x_axis(value_ticks(across, most_across, words.numbers()), name);
  plot.y_axis(value_ticks(scales.effort_percent, most_steps, words.numbers()));
  if (const auto& middle = comparison.middle_performance)
    plot.strokes({{*middle, scales.effort_percent.low, scales.effort_percent.high}}, "middle");
  if (comparison.middle_effort_percent) plot.level(*comparison.middle_effort_percent, "middle");
  std::vector<Plot::Stroke> intervals;
  intervals.reserve(placed.size());
  for (const Placed& one : placed) intervals.push_back({one.across, one.effort->low, one.effort->high});
  plot.strokes(intervals, "whisker");
  bool ease = false, limit = false;
  for (const Placed& one : placed) {
    const EffortForPlace what = one.member->effort_for_place;
    ease = ease || what == EffortForPlace::ahead_at_ease;
    limit = limit || what == EffortForPlace::behind_at_limit;
    const double y = height_px * (1 - (one.effort->value - scales.effort_percent.low) / scales.effort_percent.length());
    plot.symbol(symbol_of(what), one.across, y, "symbol");
  }
  draw_names(plot, placed, across, scales.effort_percent);
  plot.finish(figure);
  figure.legend.push_back({LegendEntry::Swatch::symbol, "mark-person", words("class.person")});
  if (ease) figure.legend.push_back({LegendEntry::Swatch::symbol, "mark-ease", words("class.at_ease_mark")});
  if (limit) figure.legend.push_back({LegendEntry::Swatch::symbol, "mark-limit", words("class.at_limit_mark")});
  figure.legend.push_back({LegendEntry::Swatch::area, "interval", words("rate.interval")});
  figure.legend.push_back({LegendEntry::Swatch::line, "middle", words("class.middle_mark")});
  for (const Placed& one : placed)
    figure.alt += (figure.alt.empty() ? "" : "; ") + one.member->entry.code + ": " + name + " " +
                  words.number(*one.member->entry.performance, 0) + ", " + words.number(one.effort->value, 0) + " % (" +
                  words("range.rate_bare",
                        {{"low", words.number(one.effort->low, 0)}, {"high", words.number(one.effort->high, 0)}}) +
                  ")";
  figure.alt += ".";
  figure.csv = performance_csv(placed, comparison.performance.name, words);
  return figure;
}

}  // namespace pulsewright
