#include <algorithm>

#include "8_report/figure/figure.hpp"
#include "8_report/figure/range_rows.hpp"
#include "8_report/page/page_frame.hpp"
#include "8_report/page/sortable_table.hpp"
#include "8_report/text/csv_table.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t most_rows = 2000;
constexpr std::size_t most_named = 12;
constexpr int most_steps = 6;

/// A measure as a batch shows it: where it is, with how many decimals.
struct ShownMeasure {
  const char* key;
  std::optional<double> BatchRow::*value;
  int decimals;
  bool drawn;  ///< as a distribution; all are columns
};

constexpr ShownMeasure shown_measures[] = {{"readable_percent", &BatchRow::readable_percent, 0, true},
                                           {"flagged_percent", &BatchRow::flagged_percent, 1, true},
                                           {"mean_hr_bpm", &BatchRow::mean_hr_bpm, 0, true},
                                           {"lowest_hr_bpm", &BatchRow::lowest_hr_bpm, 0, false},
                                           {"peak_hr_bpm", &BatchRow::peak_hr_bpm, 0, true},
                                           {"rmssd_ms", &BatchRow::rmssd_ms, 1, true},
                                           {"in_target_s", &BatchRow::in_target_s, 0, true}};

std::string measure_name(const std::string& key, const Words& words) { return words("batch.measure." + key); }

std::string names_of(const std::vector<std::size_t>& positions, std::span<const BatchRow> rows) {
  std::string names;
  for (std::size_t i = 0; i < positions.size() && i < most_named; ++i)
    names += (names.empty() ? "" : ", ") + rows[positions[i]].file;
  return positions.size() > most_named ? names + ", ..." : names;
}

const MeasureSummary* summary_of(const BatchSummary& summary, std::string_view key) {
  for (const MeasureSummary& measure : summary.measures)
    if (measure.key == key) return &measure;
  return nullptr;
}

Markup sentences(const BatchSummary& summary, std::span<const BatchRow> rows, const Words& words) {
  Markup out;
  out.open("ul", {{"class", "summary"}});
  const auto count = [&words](std::size_t n) { return words.count(static_cast<std::int64_t>(n)); };
  out.element("li", words("batch.done", {{"done", count(summary.done)}, {"all", count(rows.size())}}));
  if (summary.no_value > 0) out.element("li", words("batch.no_value", {{"count", count(summary.no_value)}}));
  if (summary.failed > 0) out.element("li", words("batch.failed", {{"count", count(summary.failed)}}));
  if (const MeasureSummary* rate = summary_of(summary, "mean_hr_bpm"))
    out.element("li", words("batch.rate", {{"median", words.number(rate->median, 0)},
                                           {"low", words.number(rate->lower_quartile, 0)},
                                           {"high", words.number(rate->upper_quartile, 0)}}));
  for (const std::vector<std::size_t>& group : summary.repeated)
    out.element("li", words("batch.repeated", {{"names", names_of(group, rows)}}));
  return out.close();
}

Figure distribution_figure(const MeasureSummary& measure, const ShownMeasure& shown, std::span<const BatchRow> rows,
                           const Words& words) {
  const auto number = [&](double value) { return words.number(value, shown.decimals); };
  RangeRow row;
  row.name = words.counted("records", static_cast<std::int64_t>(measure.count));
  row.said = words("batch.figure_said", {{"median", number(measure.median)},
                                         {"low", number(measure.lower_quartile)},
                                         {"high", number(measure.upper_quartile)}});
  row.value = measure.median;
  row.low = measure.lowest;
  row.high = measure.highest;
  row.inner_low = measure.lower_quartile;
  row.inner_high = measure.upper_quartile;
  const std::string name = measure_name(measure.key, words);
  Figure figure =
      range_rows_figure({row}, rounded_out({measure.lowest, measure.highest}, most_steps), name, std::nullopt, words);
  figure.id = "batch-" + measure.key;
  figure.title = name;
  CsvTable table({"file", measure.key}, words.numbers());
  for (const BatchRow& record : rows)
    if (record.*shown.value) table.text(record.file).number(record.*shown.value, 6).end_row();
  figure.csv = table.take();
  return figure;
}

Markup distributions(const BatchSummary& summary, std::span<const BatchRow> rows, const Words& words) {
  Markup out;
  bool any = false;
  for (const ShownMeasure& shown : shown_measures) {
    const MeasureSummary* measure = shown.drawn ? summary_of(summary, shown.key) : nullptr;
    if (measure == nullptr || measure->count < 2) continue;
    if (!any) out.element("p", words("batch.figure_caption")).open("div", {{"class", "figures pair"}});
    any = true;
    out.add(figure_on_page(distribution_figure(*measure, shown, rows, words), words, "h3"));
  }
  if (any) out.close();
  return out;
}

Markup unusual(const BatchSummary& summary, std::span<const BatchRow> rows, const Words& words) {
  Markup list;
  for (const MeasureSummary& measure : summary.measures)
    if (!measure.outside.empty())
      list.element("li", words("batch.outside_row", {{"measure", measure_name(measure.key, words)},
                                                     {"names", names_of(measure.outside, rows)}}));
  Markup out;
  if (list.blank()) return out;
  return out.element("p", words("batch.outside")).open("ul").add(list).close();
}

Markup records_table(std::span<const BatchRow> rows, const Words& words) {
  std::vector<TableColumn> columns{
      {words("batch.column.file")}, {words("batch.column.length"), true}, {words("batch.column.beats"), true}};
  for (const ShownMeasure& shown : shown_measures) columns.push_back({measure_name(shown.key, words), true});
  std::vector<std::vector<TableCell>> cells;
  for (const BatchRow& row : rows.first(std::min(rows.size(), most_rows))) {
    std::vector<TableCell> line{{row.file}};
    line.push_back({row.duration_s ? format_clock(Seconds{*row.duration_s}) : std::string(), row.duration_s});
    line.push_back({row.beats_count ? words.count(*row.beats_count) : std::string()});
    if (row.beats_count) line.back().value = static_cast<double>(*row.beats_count);
    for (const ShownMeasure& shown : shown_measures) {
      const std::optional<double>& value = row.*shown.value;
      line.push_back({value ? words.number(*value, shown.decimals) : std::string(), value});
    }
    cells.push_back(std::move(line));
  }
  Markup out = sortable_table(words("section.records"), words("batch.table_caption"), columns, cells);
  if (rows.size() > most_rows)
    out.element("p", {{"class", "quiet"}},
                words("batch.table_cut", {{"shown", words.count(static_cast<std::int64_t>(most_rows))},
                                          {"all", words.count(static_cast<std::int64_t>(rows.size()))}}));
  return out;
}

/// Without the record's name, which heads the row.
std::string reason_of(const BatchRow& row) {
  const std::string begin = row.file + ": ";
  return row.reason.starts_with(begin) ? row.reason.substr(begin.size()) : row.reason;
}

Markup failures_table(std::span<const BatchRow> rows, const Words& words) {
  std::vector<std::vector<TableCell>> cells;
  for (const BatchRow& row : rows)
    if (row.exit_code != 0 && cells.size() < most_rows) cells.push_back({{row.file}, {reason_of(row)}});
  if (cells.empty()) return {};
  return sortable_table(words("section.failures"), words("section.failures"),
                        {{words("batch.column.file")}, {words("batch.column.reason")}}, cells);
}

Markup origin(const Provenance& provenance, const Words& words) {
  Markup out;
  const bool defaults = provenance.options.empty() || provenance.options == "{}";
  out.open("dl", {{"class", "origin"}});
  out.element("dt", words("origin.input")).open("dd").element("code", provenance.input).close();
  out.element("dt", words("origin.options")).open("dd");
  if (defaults)
    out.text(words("origin.defaults"));
  else
    out.element("code", provenance.options);
  out.close();
  out.element("dt", words("origin.version")).open("dd").element("code", provenance.version).close();
  return out.close();
}

}  // namespace

std::string batch_report(std::span<const BatchRow> rows, const Provenance& provenance, Language language) {
  constexpr double s_per_h = 3600;
  const Words words(language);
  const BatchSummary summary = summarize(rows);
  Markup header;
  header.element("h1", words("batch.title"));
  header.element("p", {{"class", "quiet"}},
                 words("batch.records", {{"records", words.counted("records", static_cast<std::int64_t>(rows.size()))},
                                         {"hours", words.number(summary.recorded_s / s_per_h, 1)}}));
  Markup main = page_section("summary", words("section.summary"), sentences(summary, rows, words));
  const auto add = [&](const char* id, const Markup& contents) {
    if (!contents.blank()) main.add(page_section(id, words(std::string("section.") + id), contents));
  };
  add("distributions", distributions(summary, rows, words));
  add("unusual", unusual(summary, rows, words));
  add("failures", failures_table(rows, words));
  if (!rows.empty()) add("records", records_table(rows, words));
  add("origin", origin(provenance, words));
  return page_frame(words("batch.title_of", {{"input", provenance.input}}), header, main, words);
}

}  // namespace pulsewright
