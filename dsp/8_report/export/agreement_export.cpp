#include <array>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

/// A figure of a comparison: key, value, decimals, and how people read it.
struct Figure {
  const char* key;
  std::optional<double> value;
  int decimals;
  const char* label;
  const char* unit;
  const char* rule;
};

std::array<Figure, 7> figures(const BeatAgreement& a) {
  return {
      {{"sensitivity_percent", a.sensitivity_percent(), 3, "sensitivity (Se)", "%", "TP / (TP + FN)"},
       {"positive_predictivity_percent", a.positive_predictivity_percent(), 3, "positive predictivity (+P)", "%",
        "TP / (TP + FP)"},
       {"f1_percent", a.f1_percent(), 3, "F1", "%", "harmonic mean of the two"},
       {"error_rate_percent", a.error_rate_percent(), 3, "error rate (DER)", "%", "(FN + FP) / reference beats"},
       {"bias_ms", a.bias_ms(), 3, "timing bias", "ms", "mean of test - reference over matched beats"},
       {"sd_ms", a.sd_ms(), 3, "timing SD", "ms", "standard deviation of those differences (n - 1)"},
       {"p95_absolute_ms", a.p95_absolute_ms(), 3, "95 % within", "ms", "95th percentile of their absolute value"}}};
}

/// Mean over records of a figure, records counting equally; those without a value are left out.
std::optional<double> average_of(const BeatComparisonTable& table, std::size_t figure) {
  double sum = 0;
  int count = 0;
  for (const BeatComparison& record : table.records)
    if (const auto value = figures(record.agreement)[figure].value) {
      sum += *value;
      ++count;
    }
  return count > 0 ? std::optional<double>(sum / count) : std::nullopt;
}

CsvTable begin_table(const NumberStyle& style) {
  return CsvTable({"name", "reference_count", "true_positives_count", "false_negatives_count", "false_positives_count",
                   "sensitivity_percent", "positive_predictivity_percent", "f1_percent", "error_rate_percent",
                   "bias_ms", "sd_ms", "p95_absolute_ms", "scored_s", "excluded_s", "unreadable_s"},
                  style);
}

void add_row(CsvTable& table, const BeatAgreement& a) {
  table.text(a.name).count(a.true_positives + a.false_negatives).count(a.true_positives);
  table.count(a.false_negatives).count(a.false_positives);
  for (const Figure& figure : figures(a)) table.number(figure.value, figure.decimals);
  table.number(a.scored.value(), 3).number(a.excluded.value(), 3).number(a.unreadable.value(), 3).end_row();
}

constexpr const char* no_beats = "there are no beats to divide by, or no matched pairs";

Json comparison_row(const BeatComparison& comparison, Reasons& reasons) {
  const BeatAgreement& a = comparison.agreement;
  Json row = {{"name", a.name},
              {"reference_count", a.true_positives + a.false_negatives},
              {"true_positives_count", a.true_positives},
              {"false_negatives_count", a.false_negatives},
              {"false_positives_count", a.false_positives}};
  for (const Figure& figure : figures(a)) put(row, reasons, figure.key, figure.value, figure.decimals, no_beats);
  row["scored_s"] = json_number(a.scored.value(), 3);
  row["excluded_s"] = json_number(a.excluded.value(), 3);
  row["unreadable_s"] = json_number(a.unreadable.value(), 3);
  row["sweep"] = Json::array();
  for (const SweepPoint& point : comparison.sweep) {
    Json entry = {{"tolerance_s", json_number(point.tolerance.value(), 3)}};
    put(entry, reasons, "f1_percent", point.f1_percent, 3, no_beats);
    row["sweep"].push_back(std::move(entry));
  }
  return row;
}

Json rules(const MatchOptions& options) {
  return {{"tolerance_s", json_number(options.tolerance.value(), 6)},
          {"skip_s", json_number(options.skip.value(), 6)},
          {"matching", "one to one in time order, closest first, inside the tolerance"},
          {"left_out", "marked spans, flutter episodes, and the skipped start"}};
}

void add_rules(TextPage& page, const MatchOptions& options) {
  page.blank().heading("Rules");
  page.row("matched", "one to one in time order, closest first, at most " +
                          format_number(1000 * options.tolerance.value(), 0) + " ms apart");
  page.row("not scored", "the first " + format_number(options.skip.value(), 0) +
                             " s (EC57 allows 300 s of learning), marked spans, flutter episodes");
}

}  // namespace

std::string agreement_csv(const BeatComparison& result, const NumberStyle& style) {
  CsvTable table = begin_table(style);
  add_row(table, result.agreement);
  return table.take();
}

std::string agreement_csv(const BeatComparisonTable& comparison, const NumberStyle& style) {
  CsvTable table = begin_table(style);
  for (const BeatComparison& record : comparison.records) add_row(table, record.agreement);
  for (const BeatGroup& group : comparison.groups) {
    BeatAgreement row = group.agreement;
    row.name = group.by + "=" + group.name;
    add_row(table, row);
  }
  add_row(table, comparison.gross.agreement);
  table.text("average").text("").text("").text("").text("");
  const auto shape = figures(comparison.gross.agreement);
  for (std::size_t i = 0; i < shape.size(); ++i) table.number(average_of(comparison, i), shape[i].decimals);
  table.text("").text("").text("").end_row();
  return table.take();
}

std::string agreement_json(const BeatComparison& result, const MatchOptions& options, const Provenance& provenance) {
  Reasons reasons;
  Json body = comparison_row(result, reasons);
  Json missed = Json::array(), extra = Json::array();
  for (const Seconds time : result.agreement.missed) missed.push_back(json_number(time.value(), 6));
  for (const Seconds time : result.agreement.extra) extra.push_back(json_number(time.value(), 6));
  body["missed_s"] = std::move(missed);
  body["extra_s"] = std::move(extra);
  body["rules"] = rules(options);
  return json_document("beat_comparison", body, reasons, result.warnings, provenance);
}

std::string agreement_json(const BeatComparisonTable& table, const MatchOptions& options,
                           const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["records"] = Json::array();
  for (const BeatComparison& record : table.records) body["records"].push_back(comparison_row(record, reasons));
  body["groups"] = Json::array();
  for (const BeatGroup& group : table.groups) {
    Json row = comparison_row({group.agreement, {}, {}}, reasons);
    row.erase("sweep");
    row["by"] = group.by;
    row["records_count"] = group.records;
    body["groups"].push_back(std::move(row));
  }
  body["left_out"] = Json::array();
  for (const LeftOutRecord& record : table.left_out)
    body["left_out"].push_back({{"name", record.name}, {"reason", record.reason}});
  body["gross"] = comparison_row(table.gross, reasons);
  body["average"] = Json::object();
  const auto shape = figures(table.gross.agreement);
  for (std::size_t i = 0; i < shape.size(); ++i)
    put(body["average"], reasons, shape[i].key, average_of(table, i), shape[i].decimals, no_beats);
  body["rules"] = rules(options);
  return json_document("beat_comparison_table", body, reasons, table.warnings, provenance);
}

std::string agreement_text(const BeatComparison& result, const MatchOptions& options) {
  const BeatAgreement& a = result.agreement;
  TextPage page;
  page.heading("Beats of " + a.name + " against the reference");
  page.row("reference beats", std::to_string(a.true_positives + a.false_negatives));
  page.row("found (TP)", std::to_string(a.true_positives));
  page.row("missed (FN)", std::to_string(a.false_negatives));
  page.row("extra (FP)", std::to_string(a.false_positives));
  for (const Figure& figure : figures(a))
    page.row(figure.label,
             with_unit(format_number(figure.value, std::string_view(figure.unit) == "%" ? 2 : 1), figure.unit),
             figure.rule);
  page.row("scored", with_unit(format_number(a.scored.value(), 1), "s"));
  page.row("excluded", with_unit(format_number(a.excluded.value(), 1), "s"), "marked spans and flutter episodes");
  page.row("unreadable", with_unit(format_number(a.unreadable.value(), 1), "s"),
           "where the test declared itself unable; scored all the same");
  if (!result.sweep.empty()) {
    page.blank().heading("F1 by tolerance");
    for (const SweepPoint& point : result.sweep)
      page.row(format_number(1000 * point.tolerance.value(), 0) + " ms",
               with_unit(format_number(point.f1_percent, 2), "%"));
  }
  add_rules(page, options);
  return page.take();
}

std::string agreement_text(const BeatComparisonTable& table, const MatchOptions& options) {
  TextPage page;
  page.heading("Beats against their references, " +
               counted(static_cast<long long>(table.records.size()), "record", "records"));
  std::vector<std::vector<std::string>> rows{
      {"record", "beats", "FN", "FP", "Se %", "+P %", "F1 %", "DER %", "bias ms", "SD ms", "excluded s"}};
  const auto add = [&rows](const BeatAgreement& a) {
    std::vector<std::string> row{a.name, std::to_string(a.true_positives + a.false_negatives),
                                 std::to_string(a.false_negatives), std::to_string(a.false_positives)};
    const auto all = figures(a);
    for (std::size_t i = 0; i < 6; ++i) row.push_back(all[i].value ? format_number(all[i].value, i < 4 ? 2 : 1) : "-");
    row.push_back(format_number(a.excluded.value(), 1));
    rows.push_back(std::move(row));
  };
  for (const BeatComparison& record : table.records) add(record.agreement);
  for (const BeatGroup& group : table.groups) {
    BeatAgreement row = group.agreement;
    row.name = group.by + "=" + group.name;
    add(row);
  }
  add(table.gross.agreement);
  std::vector<std::string> average{"average", "", "", ""};
  for (std::size_t i = 0; i < 6; ++i) {
    const auto mean = average_of(table, i);
    average.push_back(mean ? format_number(mean, i < 4 ? 2 : 1) : "-");
  }
  rows.push_back(std::move(average));
  page.table(rows);
  page.blank().heading("Last rows");
  page.row("gross", "all beats pooled");
  page.row("average", "mean of the records, each counting the same");
  for (const LeftOutRecord& record : table.left_out) page.paragraph(record.name + " was left out: " + record.reason);
  add_rules(page, options);
  return page.take();
}

}  // namespace pulsewright
