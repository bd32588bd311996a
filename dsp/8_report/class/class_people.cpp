#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "8_report/export/effort_parts.hpp"
#include "8_report/page/sortable_table.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr int line_px = 18;
constexpr double rail_top_px = 7, rail_px = 4;
constexpr double interval_top_px = 4, interval_px = 10;
constexpr double bar_top_px = 5, bar_px = 8;
constexpr int most_steps = 4;
constexpr int scale_px = 14;  ///< height of the numbers over a column of lines

/// A value on a rail, as wide as its style sheet says: positions are per cent.
class Line {
 public:
  explicit Line(const AxisRange& scale) : scale_(scale) {
    out_.open("svg", {{"class", "line"}, {"height", std::to_string(line_px)}, {"aria-hidden", "true"}});
    box(scale.low, scale.high, rail_top_px, rail_px, "rail");
    for (const AxisTick& tick : value_ticks(scale, most_steps, {}))
      out_.empty("line", {{"class", "grid"}, {"x1", at(tick.at)}, {"x2", at(tick.at)}, {"y1", "2"}, {"y2", "16"}});
  }

  void bar(double to) { box(scale_.low, to, bar_top_px, bar_px, "bar bar-side"); }
  void ranged(const Ranged& value) {
    box(value.low, value.high, interval_top_px, interval_px, "interval");
    out_.empty("use", {{"href", "#mark-value"}, {"class", "symbol"}, {"x", at(value.value)}, {"y", "9"}});
  }
  [[nodiscard]] Markup take() { return out_.close(); }

 private:
  [[nodiscard]] double share(double value) const {
    return 100 * std::clamp((value - scale_.low) / scale_.length(), 0.0, 1.0);
  }
  [[nodiscard]] std::string at(double value) const { return format_number(share(value), 2) + "%"; }
  void box(double low, double high, double top, double height, const char* style) {
    out_.empty("rect", {{"class", style},
                        {"x", at(low)},
                        {"y", format_number(top, 0)},
                        {"width", format_number(share(high) - share(low), 2) + "%"},
                        {"height", format_number(height, 0)}});
  }

  AxisRange scale_;
  Markup out_;
};

/// The numbers of a scale, to stand over its lines.
Markup scale_marks(const AxisRange& scale, const std::vector<AxisTick>& ticks) {
  Markup out;
  out.open("svg", {{"class", "line"}, {"height", std::to_string(scale_px)}, {"aria-hidden", "true"}});
  for (const AxisTick& tick : ticks) {
    const double share = (tick.at - scale.low) / scale.length();
    const char* anchor = share < 0.01 ? "start" : share > 0.99 ? "end" : "middle";
    out.element("text",
                {{"class", "tick"}, {"x", format_number(100 * share, 2) + "%"}, {"y", "11"}, {"text-anchor", anchor}},
                tick.label);
  }
  return out.close();
}

/// Only the ends: between them there is no room for times.
std::vector<AxisTick> ends_of(const AxisRange& time) {
  return {{time.low, format_clock(Seconds{time.low}), false}, {time.high, format_clock(Seconds{time.high}), false}};
}

TableCell drawn_cell(const Ranged& value, Markup said, Line line) {
  TableCell cell;
  cell.value = value.value;
  line.ranged(value);
  cell.content = std::move(said);
  cell.content.add(line.take());
  return cell;
}

TableCell traced_cell(const TracedNumber& number, double value) {
  TableCell cell;
  cell.value = value;
  cell.content = traced_markup(number);
  return cell;
}

/// What stands where nothing could be measured: in words, never blank and never 0.
TableCell missing_cell(const Words& words, const char* why = "class.missing") {
  TableCell cell;
  cell.content.element("span", {{"class", "quiet"}}, words(why));
  return cell;
}

void add_session_cells(std::vector<TableCell>& row, const SessionEffort& session, std::size_t i,
                       const ClassScales& scales, const Words& words) {
  const Effort& effort = session.effort;
  const auto key = [i](const char* name) { return member_key(i, std::string("effort.") + name); };
  const auto number = [&](double value, int decimals, int shown, const char* name) {
    return traced_cell(traced_number(value, decimals, shown, key(name), words), value);
  };
  const auto& mean = session.mean_reserve_percent;
  row.push_back(mean ? drawn_cell(*mean, ranged_percent(*mean, i, words), Line(scales.effort_percent))
                     : missing_cell(words));
  if (session.in_target_s && effort.mean_rate) {
    Line line(scales.time_s);
    line.bar(session.in_target_s->value);
    row.push_back(drawn_cell(*session.in_target_s, ranged_time(*session.in_target_s, i, words), std::move(line)));
  } else {
    row.push_back(missing_cell(words));
  }
  const auto& peak = session.peak;
  row.push_back(peak && peak->reserve_percent ? number(*peak->reserve_percent, 2, 0, "session.peak.reserve_percent")
                                              : missing_cell(words));
  row.push_back(session.weighted_minutes ? number(session.weighted_minutes->value, 2, 1, "session.weighted_min")
                                         : missing_cell(words));
  const auto& recovery = session.recovery;
  if (recovery && recovery->first_minute_fall) {
    const BeatsPerMinute fall = *recovery->first_minute_fall;
    row.push_back(traced_cell(traced_rate(fall, key("session.recovery.first_minute_fall_bpm")), fall.value()));
  } else {
    row.push_back(missing_cell(words));
  }
}

void add_length_cells(std::vector<TableCell>& row, const Effort& effort, std::size_t i) {
  const double long_s = seconds_of(effort.duration_us), unmeasured_s = seconds_of(effort.unmeasured_us);
  row.push_back(traced_cell(
      {format_clock(Seconds{long_s}), member_key(i, "effort.duration_s"), format_number(long_s, 6)}, long_s));
  row.push_back(traced_cell(
      {format_clock(Seconds{unmeasured_s}), member_key(i, "effort.unmeasured_s"), format_number(unmeasured_s, 6)},
      unmeasured_s));
}

TableCell place_cell(const ClassMember& member, std::size_t i, const Words& words) {
  if (!member.standing) return missing_cell(words, "class.no_place");
  const TracedNumber best = traced_count(member.standing->best, member_key(i, "place_best"));
  const TracedNumber worst = traced_count(member.standing->worst, member_key(i, "place_worst"));
  TableCell cell;
  cell.value = member.standing->best;
  cell.content = member.standing->best == member.standing->worst
                     ? traced_markup(best)
                     : traced_sentence(words, "class.places", {{"best", best}, {"worst", worst}});
  return cell;
}

}  // namespace

Markup class_people(const ClassComparison& comparison, const ClassScales& scales, const Words& words) {
  const bool performance = !comparison.performance.name.empty();
  const bool placed = comparison.options.sort_by != ClassMeasure::code;
  std::vector<TableColumn> columns{
      {words("class.column.code")},
      {words("class.column.effort"), true,
       scale_marks(scales.effort_percent, value_ticks(scales.effort_percent, most_steps, words.numbers()))},
      {words("class.column.target"), true, scale_marks(scales.time_s, ends_of(scales.time_s))},
      {words("class.column.peak"), true},
      {words("class.column.load"), true},
      {words("class.column.fall"), true}};
  constexpr std::size_t session_columns = 5, length_columns = 2;
  if (performance) columns.push_back({measure_words(ClassMeasure::performance, comparison.performance, words), true});
  if (placed) columns.push_back({words("class.column.place"), true});
  columns.push_back({words("class.column.length"), true});
  columns.push_back({words("class.column.unmeasured"), true});
  std::vector<std::vector<TableCell>> rows;
  rows.reserve(comparison.members.size());
  for (std::size_t i = 0; i < comparison.members.size(); ++i) {
    const ClassMember& member = comparison.members[i];
    std::vector<TableCell> row{{member.entry.code}};
    if (member.session)
      add_session_cells(row, *member.session, i, scales, words);
    else
      row.insert(row.end(), session_columns, missing_cell(words));
    if (performance) {
      const auto& value = member.entry.performance;
      row.push_back(
          value ? traced_cell({fmt::format("{:g}", *value), member_key(i, "performance"), format_number(*value, 3)},
                              *value)
                : missing_cell(words, "class.not_noted"));
    }
    if (placed) row.push_back(place_cell(member, i, words));
    if (member.session)
      add_length_cells(row, member.session->effort, i);
    else
      row.insert(row.end(), length_columns, missing_cell(words));
    rows.push_back(std::move(row));
  }
  const std::string sorted =
      words("class.sorted", {{"measure", measure_words(comparison.options.sort_by, comparison.performance, words)}});
  Markup out;
  out.element("p", words("class.people_caption"));
  return out.add(sortable_table(words("section.people"), sorted, columns, rows));
}

}  // namespace pulsewright
