#include <algorithm>
#include <cmath>
#include <span>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "8_report/words/words.hpp"
#include "study_figures.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 300, square_px = 264, condition_px = 36;
constexpr double name_apart_px = 14;
constexpr int most_steps = 6, most_across = 6;

/// Every pair that was analysed, in the order of the records.
std::vector<PairedValue> pairs_of(const RateStudy& study) {
  std::vector<PairedValue> pairs;
  for (const ComparedRecord& record : study.records)
    if (record.reached == FlowStage::analysed) pairs.insert(pairs.end(), record.pairs.begin(), record.pairs.end());
  return pairs;
}

template <class Get>
AxisRange range_of(const std::vector<PairedValue>& pairs, const Get& get) {
  AxisRange range{get(pairs.front()), get(pairs.front())};
  for (const PairedValue& pair : pairs) {
    range.low = std::min(range.low, get(pair));
    range.high = std::max(range.high, get(pair));
  }
  return range;
}

void include(AxisRange& range, double value) {
  range.low = std::min(range.low, value);
  range.high = std::max(range.high, value);
}

template <class X, class Y>
void add_points(Plot& plot, const std::vector<PairedValue>& pairs, const X& x, const Y& y) {
  std::vector<Plot::Stroke> points;
  points.reserve(pairs.size());
  for (const PairedValue& pair : pairs) points.push_back({x(pair), y(pair), y(pair)});
  plot.strokes(points, "point");
}

double difference_of(const PairedValue& p) { return p.test - p.reference; }
double mean_of_pair(const PairedValue& p) { return 0.5 * (p.test + p.reference); }

Figure differences_figure(const RateStudy& study, const std::vector<PairedValue>& pairs, const Words& words) {
  const LimitsOfAgreement& limits = *limits_of(study.overall);
  AxisRange across = rounded_out(range_of(pairs, mean_of_pair), most_across);
  AxisRange down = range_of(pairs, difference_of);
  for (const Estimate* e : {&limits.lower, &limits.bias, &limits.upper})
    for (const double value : {e->low.value_or(e->value), e->high.value_or(e->value)}) include(down, value);
  down = rounded_out(down, most_steps);
  Figure figure;
  figure.id = "differences";
  figure.title = words("differences.title");
  figure.y_title = words("differences.y");
  figure.caption = words("differences.caption");
  Plot plot(across, down, height_px);
  plot.x_axis(value_ticks(across, most_across, words.numbers()), words("differences.x"));
  plot.y_axis(value_ticks(down, most_steps, words.numbers()));
  const auto named = [&](const Estimate& e) { return words.number(e.value, 1); };
  for (const Estimate* e : {&limits.lower, &limits.bias, &limits.upper}) {
    if (e->low && e->high) plot.band(*e->low, *e->high, "shade-2", "");
    plot.level(e->value, e == &limits.bias ? "rate" : "target");
  }
  // Each beside its line; the outer ones give way where the lines lie close.
  const double least_apart = name_apart_px * down.length() / height_px;
  plot.name(limits.bias.value, named(limits.bias));
  plot.name(std::min(limits.lower.value, limits.bias.value - least_apart), named(limits.lower));
  plot.name(std::max(limits.upper.value, limits.bias.value + least_apart), named(limits.upper));
  plot.level(0, "base");
  add_points(plot, pairs, mean_of_pair, difference_of);
  plot.finish(figure);
  CsvTable table({"mean_bpm", "difference_bpm"}, words.numbers());
  for (const PairedValue& p : pairs) table.number(mean_of_pair(p), 2).number(difference_of(p), 2).end_row();
  figure.csv = table.take();
  figure.alt =
      words("differences.alt", {{"pairs", words.counted("pairs", static_cast<std::int64_t>(pairs.size()))},
                                {"people", words.counted("people", static_cast<std::int64_t>(study.overall.people))},
                                {"bias", named(limits.bias)},
                                {"lower", named(limits.lower)},
                                {"upper", named(limits.upper)}});
  figure.legend = {{LegendEntry::Swatch::line, "rate", words("differences.bias")},
                   {LegendEntry::Swatch::line, "target", words("differences.limits")},
                   {LegendEntry::Swatch::area, "shade-2", words("differences.intervals")}};
  return figure;
}

Figure scatter_figure(const RateStudy& study, const std::vector<PairedValue>& pairs, const Words& words) {
  AxisRange range = range_of(pairs, [](const PairedValue& p) { return p.reference; });
  for (const PairedValue& pair : pairs) include(range, pair.test);
  range = rounded_out(range, most_steps);
  Figure figure;
  figure.id = "scatter";
  figure.title = words("scatter.title");
  figure.y_title = words("scatter.y");
  figure.caption = words("scatter.caption");
  figure.width_px = square_px;
  Plot plot(range, range, square_px, 0, square_px);
  plot.x_axis(value_ticks(range, most_steps, words.numbers()), words("scatter.x"));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  plot.line({{range.low, range.low}, {range.high, range.high}}, "diagonal");
  add_points(
      plot, pairs, [](const PairedValue& p) { return p.reference; }, [](const PairedValue& p) { return p.test; });
  plot.finish(figure);
  CsvTable table({"reference_bpm", "test_bpm"}, words.numbers());
  for (const PairedValue& p : pairs) table.number(p.reference, 2).number(p.test, 2).end_row();
  figure.csv = table.take();
  const auto& concordance = study.overall.concordance_population;
  figure.alt = words("scatter.alt", {{"count", words.count(static_cast<std::int64_t>(pairs.size()))},
                                     {"low", words.number(study.overall.reference_low, 0)},
                                     {"high", words.number(study.overall.reference_high, 0)},
                                     {"concordance", concordance ? words.number(concordance->value, 3) : "-"}});
  figure.legend = {{LegendEntry::Swatch::line, "diagonal", words("scatter.identity")}};
  return figure;
}

Figure over_time_figure(const std::vector<PairedValue>& pairs, const Words& words) {
  AxisRange across = range_of(pairs, [](const PairedValue& p) { return p.time.value(); });
  if (!(across.length() > 0)) across.high = across.low + 1;
  AxisRange down = range_of(pairs, difference_of);
  include(down, 0);
  down = rounded_out(down, most_steps);
  Figure figure;
  figure.id = "error_over_time";
  figure.title = words("error_over_time.title");
  figure.y_title = words("differences.y");
  figure.caption = words("error_over_time.caption");
  Plot plot(across, down, height_px);
  plot.x_axis(clock_ticks(across), words(clock_title(across)));
  plot.y_axis(value_ticks(down, most_steps, words.numbers()));
  plot.level(0, "base");
  const auto time = [](const PairedValue& p) { return p.time.value(); };
  add_points(plot, pairs, time, difference_of);
  plot.finish(figure);
  CsvTable table({"time_s", "difference_bpm"}, words.numbers());
  for (const PairedValue& p : pairs) table.number(time(p), 1).number(difference_of(p), 2).end_row();
  figure.csv = table.take();
  const AxisRange seen = range_of(pairs, difference_of);
  figure.alt = words("error_over_time.alt", {{"count", words.count(static_cast<std::int64_t>(pairs.size()))},
                                             {"low", words.number(seen.low, 1)},
                                             {"high", words.number(seen.high, 1)}});
  return figure;
}

/// One line a condition: its limits as a bar, its bias as a stroke.
Figure conditions_figure(std::span<const GroupAgreement> conditions, const Words& words) {
  AxisRange across{0, 0};
  for (const GroupAgreement& group : conditions)
    if (const LimitsOfAgreement* l = limits_of(group.agreement)) {
      include(across, l->lower.value);
      include(across, l->upper.value);
    }
  across = rounded_out(across, most_across);
  const int tall = condition_px * static_cast<int>(conditions.size());
  Figure figure;
  figure.id = "error_by_condition";
  figure.title = words("error_by_condition.title");
  figure.caption = words("error_by_condition.caption");
  Plot plot(across, {0, 1}, tall);
  plot.x_axis(value_ticks(across, most_across, words.numbers()), words("differences.y"));
  CsvTable table({"condition", "bias_bpm", "lower_bpm", "upper_bpm", "mae_bpm"}, words.numbers());
  std::string list;
  double top = 0;
  for (const GroupAgreement& group : conditions) {
    const LimitsOfAgreement* l = limits_of(group.agreement);
    if (l != nullptr) {
      plot.box(l->lower.value, l->upper.value, top + 18, top + 28, "bar-side");
      const double bias = l->bias.value, half = 0.002 * across.length();
      plot.box(bias - half, bias + half, top + 14, top + 32, "bar-in");
      list += (list.empty() ? "" : "; ") + group.name + ": " + words.number(l->lower.value, 1) + ", " +
              words.number(bias, 1) + ", " + words.number(l->upper.value, 1);
      table.text(group.name).number(bias, 2).number(l->lower.value, 2).number(l->upper.value, 2);
      table.number(group.agreement.mean_absolute_error->value, 2).end_row();
    }
    plot.label(group.name, across.low, top + 12, "start", "row");
    top += condition_px;
  }
  plot.finish(figure);
  figure.csv = table.take();
  figure.alt = words("error_by_condition.alt", {{"list", list}});
  figure.legend = {{LegendEntry::Swatch::area, "bar-side", words("differences.limits")},
                   {LegendEntry::Swatch::area, "bar-in", words("differences.bias")}};
  return figure;
}

}  // namespace

const LimitsOfAgreement* limits_of(const PairedAgreement& a) {
  if (a.repeated) return &a.repeated->limits;
  return a.plain ? &*a.plain : nullptr;
}

std::vector<Figure> figures_of(const RateStudy& study, const Words& words) {
  const std::vector<PairedValue> pairs = pairs_of(study);
  std::vector<Figure> figures;
  if (pairs.empty()) return figures;
  if (limits_of(study.overall) != nullptr) figures.push_back(differences_figure(study, pairs, words));
  figures.push_back(scatter_figure(study, pairs, words));
  figures.push_back(over_time_figure(pairs, words));
  if (const auto conditions = study.groups_by("condition"); !conditions.empty())
    figures.push_back(conditions_figure(conditions, words));
  return figures;
}

std::vector<FigureFile> study_figures(const RateStudy& study, Language language) {
  std::vector<FigureFile> files;
  for (const Figure& figure : figures_of(study, Words(language))) files.push_back({figure.id, figure_svg(figure)});
  return files;
}

}  // namespace pulsewright
