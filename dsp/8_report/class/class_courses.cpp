#include <algorithm>

#include "8_report/export/effort_parts.hpp"
#include "8_report/export/rate_columns.hpp"
#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t most_columns = 240;
constexpr int most_rates = 4, most_times = 4;
constexpr int small_px = 112;
constexpr int left_px = 30;         ///< room for three digits
constexpr int labels_room_px = 20;  ///< under the plot, without a title

/// Few enough marks for a figure of a hand's width.
std::vector<AxisTick> few_clock_ticks(const AxisRange& time) {
  const std::vector<AxisTick> all = clock_ticks(time);
  const std::size_t step = std::max<std::size_t>(1, (all.size() + most_times - 1) / most_times);
  std::vector<AxisTick> few;
  for (std::size_t i = 0; i < all.size(); i += step) few.push_back({all[i].at, all[i].label, false});
  return few;
}

void draw_rates(Plot& plot, const std::vector<RateColumn>& columns) {
  for (std::size_t i = 0; i < columns.size();) {
    if (!columns[i].measured) {
      ++i;
      continue;
    }
    std::vector<PlotPoint> line;
    for (; i < columns.size() && columns[i].measured; ++i) {
      line.push_back({columns[i].centre(), columns[i].lowest});
      if (columns[i].lowest != columns[i].highest) line.push_back({columns[i].centre(), columns[i].highest});
    }
    plot.line(line, "rate");
  }
}

std::string said(const ClassMember& member, const Words& words) {
  const std::string& code = member.entry.code;
  if (!member.session || !member.session->effort.mean_rate) return words("class.course_nothing", {{"code", code}});
  const Effort& effort = member.session->effort;
  const std::string rates =
      words("class.course_alt", {{"code", code},
                                 {"mean", words.count(whole_beats(*effort.mean_rate))},
                                 {"peak", words.count(whole_beats(effort.peak_rate.value_or(*effort.mean_rate)))},
                                 {"unmeasured", words.length(Seconds{seconds_of(effort.unmeasured_us)})}});
  if (!effort.target) return rates;
  return rates + " " +
         words("class.course_target", {{"low", words.count(whole_beats(effort.target->low))},
                                       {"high", words.count(whole_beats(effort.target->high))}});
}

/// The rates that the small figures draw, a row a column.
std::string courses_csv(const ClassComparison& comparison, const Words& words) {
  CsvTable table({"code", "first_centre_s", "last_centre_s", "lowest_bpm", "highest_bpm"}, words.numbers());
  for (const ClassMember& member : comparison.members)
    for (const RateColumn& column : rate_columns(member.rates, most_columns)) {
      table.text(member.entry.code).number(column.span.start.value(), 3).number(column.span.end.value(), 3);
      table.number(column.measured ? std::optional<double>(column.lowest) : std::nullopt, 2);
      table.number(column.measured ? std::optional<double>(column.highest) : std::nullopt, 2).end_row();
    }
  return table.take();
}

/// Mean effort and time in the target, under the name.
Markup course_line(const ClassMember& member, std::size_t i, const Words& words) {
  Markup out;
  out.open("p", {{"class", "quiet"}});
  if (!member.session || !member.session->effort.mean_rate) return out.text(words("not_measured")).close();
  const SessionEffort& session = *member.session;
  if (session.mean_reserve_percent)
    out.add(traced_sentence(words, "class.course_effort",
                            {{"percent", traced_number(session.mean_reserve_percent->value, 2, 0,
                                                       member_key(i, "effort.session.mean_reserve_percent"), words)}}));
  else
    out.add(traced_sentence(words, "class.course_mean",
                            {{"mean", traced_rate(*session.effort.mean_rate, member_key(i, "effort.mean_hr_bpm"))}}));
  if (session.effort.target && session.effort.in_target_us)
    out.text(", ").add(traced_sentence(
        words, "class.course_in_target",
        {{"time", traced_length(*session.effort.in_target_us, member_key(i, "effort.in_target_s"), words)}}));
  return out.close();
}

}  // namespace

Figure course_figure(const ClassMember& member, const ClassScales& scales, int height_px, const Words& words) {
  Figure figure;
  Plot plot(scales.time_s, scales.rate_bpm, height_px);
  plot.x_axis(few_clock_ticks(scales.time_s), "");
  plot.y_axis(value_ticks(scales.rate_bpm, most_rates, words.numbers()));
  if (!member.session) {
    plot.stretch(scales.time_s.low, scales.time_s.high, "missing");
  } else {
    const Effort& effort = member.session->effort;
    if (effort.target) {
      plot.band(effort.target->low.value(), effort.target->high.value(), "shade-3", "");
      plot.level(effort.target->low.value(), "target thin");
      plot.level(effort.target->high.value(), "target thin");
    }
    if (effort.person.own_ceiling) plot.level(effort.person.own_ceiling->value(), "ceiling");
    for (const Span& stretch : unmeasured_stretches(member.rates))
      plot.stretch(stretch.start.value(), stretch.end.value(), "missing");
    draw_rates(plot, rate_columns(member.rates, most_columns));
  }
  plot.finish(figure);
  figure.height_px = height_px + labels_room_px;
  figure.title = member.entry.code;
  figure.alt = said(member, words);
  return figure;
}

Markup course_frame(const Figure& figure) {
  const std::string height = std::to_string(figure.height_px);
  Markup out;
  out.open("div", {{"class", "frame"}});
  out.open("svg", {{"class", "left"}, {"width", std::to_string(left_px)}, {"height", height}, {"aria-hidden", "true"}});
  out.add(figure.left).close();
  out.open("div", {{"class", "small-pane"}});
  out.open("svg",
           {{"class", "plot"}, {"role", "img"}, {"aria-label", figure.alt}, {"width", "100%"}, {"height", height}});
  return out.add(figure.plot).close().close().close();
}

Markup class_courses(const ClassComparison& comparison, const ClassScales& scales, const Words& words) {
  bool ceiling = false;
  for (const ClassMember& member : comparison.members)
    ceiling = ceiling || (member.session && member.session->effort.person.own_ceiling);
  std::vector<LegendEntry> legend{{LegendEntry::Swatch::line, "rate", words("rate.line")},
                                  {LegendEntry::Swatch::area, "shade-3", words("class.own_target")},
                                  {LegendEntry::Swatch::area, "missing", words("not_measured")}};
  if (ceiling) legend.push_back({LegendEntry::Swatch::line, "ceiling", words("class.own_ceiling")});
  Markup out;
  out.element("p", words("class.courses_caption")).add(legend_list(legend));
  out.open("p", {{"class", "quiet"}})
      .add(data_link("courses", courses_csv(comparison, words), words("class.courses_data")))
      .close();
  out.open("div", {{"class", "courses"}});
  for (std::size_t i = 0; i < comparison.members.size(); ++i) {
    const ClassMember& member = comparison.members[i];
    out.open("figure", {{"id", "course-" + std::to_string(i + 1)}});
    out.element("h3", member.entry.code).add(course_line(member, i, words));
    out.add(course_frame(course_figure(member, scales, small_px, words))).close();
  }
  return out.close();
}

}  // namespace pulsewright
