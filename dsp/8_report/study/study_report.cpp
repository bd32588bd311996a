#include <algorithm>
#include <cctype>
#include <cmath>
#include <span>
#include <utility>

#include "8_report/alignment_outcome.hpp"
#include "8_report/page/page_frame.hpp"
#include "8_report/page/sortable_table.hpp"
#include "study_figures.hpp"

namespace pulsewright {
namespace {

constexpr int decimals = 2;

std::string count(std::size_t n, const Words& words) { return words.count(static_cast<std::int64_t>(n)); }

std::string counted(const char* noun, std::size_t n, const Words& words) {
  return words.counted(noun, static_cast<std::int64_t>(n));
}

std::string number(const std::optional<Estimate>& estimate, int places, const Words& words) {
  return estimate ? words.number(estimate->value, places) : std::string();
}

Markup sentences(const RateStudy& study, const Words& words) {
  Markup out;
  const PairedAgreement& overall = study.overall;
  if (study.flow.analysed == 0 || overall.pairs == 0) return out.element("p", words("study.nothing"));
  out.open("ul", {{"class", "summary"}});
  const std::string& direction = words(overall.bias && overall.bias->value < 0 ? "study.less" : "study.more");
  if (overall.bias && overall.bias->low && overall.bias->high)
    out.element("li", words("study.bias", {{"bias", words.number(std::abs(overall.bias->value), decimals)},
                                           {"direction", direction},
                                           {"low", words.number(*overall.bias->low, decimals)},
                                           {"high", words.number(*overall.bias->high, decimals)}}));
  else if (overall.bias)
    out.element("li", words("study.bias_plain", {{"bias", words.number(std::abs(overall.bias->value), decimals)},
                                                 {"direction", direction}}));
  if (const LimitsOfAgreement* limits = limits_of(overall))
    out.element("li", words("study.limits", {{"lower", words.number(limits->lower.value, 1)},
                                             {"upper", words.number(limits->upper.value, 1)}}));
  out.element("li", words("study.error", {{"mae", number(overall.mean_absolute_error, decimals, words)},
                                          {"mape", number(overall.mean_absolute_percentage_error, 1, words)},
                                          {"share", number(overall.within_ec13_percent, 1, words)}}));
  if (const auto missing = study.flow.windows.missing_percent())
    out.element("li", words("study.missing", {{"missing", words.number(*missing, 1)}}));
  return out.close();
}

Markup agreement_table(const PairedAgreement& agreement, const Words& words) {
  std::vector<std::vector<TableCell>> rows;
  const auto add = [&](const char* name, const std::optional<Estimate>& estimate, int places) {
    if (!estimate) return;
    const bool bounded = estimate->low && estimate->high;
    rows.push_back({{words(name)},
                    {words.number(estimate->value, places), estimate->value},
                    {bounded ? words("range.rate_bare", {{"low", words.number(*estimate->low, places)},
                                                         {"high", words.number(*estimate->high, places)}})
                             : std::string()}});
  };
  add("study.bias_name", agreement.bias, decimals);
  if (const LimitsOfAgreement* limits = limits_of(agreement)) {
    add("study.lower", limits->lower, decimals);
    add("study.upper", limits->upper, decimals);
  }
  add("study.mae", agreement.mean_absolute_error, decimals);
  add("study.mape", agreement.mean_absolute_percentage_error, decimals);
  add("study.rmse", agreement.root_mean_square_error, decimals);
  add("study.within_5", agreement.within_5_percent, 1);
  add("study.within_10", agreement.within_10_percent, 1);
  add("study.within_ec13", agreement.within_ec13_percent, 1);
  add("study.covered", agreement.interval_covers_percent, 1);
  add("study.concordance", agreement.concordance_population, 3);
  if (agreement.intraclass) add("study.icc", agreement.intraclass->agreement, 3);
  add("study.correlation", agreement.correlation, 3);
  return sortable_table(words("section.agreement"), words("study.table_caption"),
                        {{words("study.measure")}, {words("study.value"), true}, {words("study.interval"), true}},
                        rows);
}

Markup groups_table(std::span<const GroupAgreement> groups, const char* section, const char* head, const Words& words) {
  if (groups.size() < 2) return {};  // one group is what the whole says
  std::vector<std::vector<TableCell>> rows;
  for (const GroupAgreement& group : groups) {
    const PairedAgreement& agreement = group.agreement;
    const LimitsOfAgreement* limits = limits_of(agreement);
    const auto estimate = [&](const std::optional<Estimate>& e, int places) {
      return TableCell{number(e, places, words), e ? std::optional<double>(e->value) : std::nullopt};
    };
    const auto counted = [&](std::size_t n) { return TableCell{count(n, words), static_cast<double>(n)}; };
    const std::optional<double> missing = group.counts.missing_percent();
    rows.push_back({{group.name},
                    counted(group.recorded),
                    counted(group.records),
                    counted(agreement.people),
                    counted(agreement.pairs),
                    {missing ? words.number(*missing, 1) : std::string(), missing},
                    estimate(agreement.bias, decimals),
                    estimate(limits ? std::optional<Estimate>(limits->lower) : std::nullopt, 1),
                    estimate(limits ? std::optional<Estimate>(limits->upper) : std::nullopt, 1),
                    estimate(agreement.mean_absolute_error, decimals),
                    estimate(agreement.mean_absolute_percentage_error, decimals),
                    estimate(agreement.within_ec13_percent, 1)});
  }
  return sortable_table(words(section), words("study.table_caption"),
                        {{words(head)},
                         {words("study.recorded"), true},
                         {words("study.stage.analysed"), true},
                         {words("study.people"), true},
                         {words("study.pairs"), true},
                         {words("study.missing_name"), true},
                         {words("study.bias_name"), true},
                         {words("study.lower"), true},
                         {words("study.upper"), true},
                         {words("study.mae"), true},
                         {words("study.mape"), true},
                         {words("study.within_ec13"), true}},
                        rows);
}

/// The text of a rule in the language of the page; as stage 7 says it where there is none.
std::string rule_text(const char* kind, const Verdict& verdict, const std::string& in_english, const Words& words) {
  std::string key = kind + verdict.rule;
  std::transform(key.begin(), key.end(), key.begin(), [](unsigned char c) { return c == ' ' ? '_' : std::tolower(c); });
  return words.has(key) ? words(key) : in_english;
}

/// What was found is said in English by stage 7.
Markup verdicts_table(const std::vector<Verdict>& verdicts, const char* section, const Words& words) {
  if (verdicts.empty()) return {};
  std::vector<std::vector<TableCell>> rows;
  rows.reserve(verdicts.size());
  for (const Verdict& verdict : verdicts) {
    TableCell found;
    found.content.element("span", {{"lang", "en"}}, verdict.found);
    rows.push_back({{rule_text("rule.", verdict, verdict.rule, words)},
                    {words(!verdict.met   ? "study.cannot_say"
                           : *verdict.met ? "study.yes"
                                          : "study.no")},
                    found,
                    {rule_text("needs.", verdict, verdict.needs, words)}});
  }
  return sortable_table(words(section), words(section),
                        {{words("study.rule")}, {words("study.met")}, {words("study.found")}, {words("study.needs")}},
                        rows);
}

void drop_empty_columns(std::vector<TableColumn>& columns, std::vector<std::vector<TableCell>>& rows) {
  for (std::size_t k = columns.size(); k-- > 0;) {
    if (std::any_of(rows.begin(), rows.end(), [k](const auto& row) { return !row[k].shown.empty(); })) continue;
    columns.erase(columns.begin() + static_cast<std::ptrdiff_t>(k));
    for (auto& row : rows) row.erase(row.begin() + static_cast<std::ptrdiff_t>(k));
  }
}

Markup records_table(const RateStudy& study, const Words& words) {
  std::vector<std::vector<TableCell>> rows;
  for (const ComparedRecord& record : study.records) {
    const Alignment& alignment = record.alignment;
    const auto value = [&](const std::optional<double>& v) {
      return TableCell{v ? words.number(*v, decimals) : std::string(), v};
    };
    const auto seconds = [](const std::optional<Seconds>& s) {
      return s ? std::optional<double>(s->value()) : std::nullopt;
    };
    rows.push_back({{record.facts.name},
                    {words(std::string("study.outcome.") + alignment_outcome(record))},
                    value(seconds(alignment.found_offset)),
                    value(seconds(alignment.offset_error)),
                    value(alignment.found_drift_ppm),
                    value(record.before_mean_absolute_error),
                    value(error_with_alignment(record)),
                    value(record.bias),
                    {record.left_out}});
  }
  std::vector<TableColumn> columns{{words("study.record")},         {words("study.steps")},
                                   {words("study.offset"), true},   {words("study.offset_error"), true},
                                   {words("study.drift"), true},    {words("study.mae_before"), true},
                                   {words("study.mae_with"), true}, {words("study.bias_name"), true},
                                   {words("study.left_out")}};
  drop_empty_columns(columns, rows);
  return sortable_table(words("section.alignment"), words("study.alignment_caption"), columns, rows);
}

Markup flow_list(const ExclusionFlow& flow, const Words& words) {
  Markup out;
  out.open("ol");
  const auto row = [&](const char* stage, std::size_t records) {
    out.element("li",
                words("study.flow_row", {{"stage", words(stage)}, {"records", counted("records", records, words)}}));
  };
  row("study.stage.recorded", flow.recorded);
  row("study.stage.readable", flow.readable);
  row("study.stage.aligned", flow.aligned);
  row("study.stage.analysed", flow.analysed);
  return out.close();
}

Markup origin(const RateStudy& study, const Provenance& provenance, const Words& words) {
  Markup out;
  const bool defaults = provenance.options.empty() || provenance.options == "{}";
  out.open("dl", {{"class", "origin"}});
  out.element("dt", words("origin.input")).open("dd").element("code", provenance.input).close();
  out.element("dt", words("origin.options")).open("dd");
  out.element("code", defaults ? words("origin.defaults") : provenance.options).close();
  out.element("dt", words("origin.version")).open("dd").element("code", version()).close();
  out.close();
  if (study.warnings.empty()) return out;
  out.element("h3", words("origin.warnings")).open("ul", {{"lang", "en"}, {"class", "warnings"}});
  for (const Warning& warning : study.warnings)
    out.open("li").text(warning.message + " ").element("code", warning.code).close();
  return out.close();
}

}  // namespace

std::string study_report(const RateStudy& study, const Provenance& provenance, Language language) {
  const Words words(language);
  Markup header;
  header.element("h1", words("study.title"));
  header.element("p", {{"class", "quiet"}},
                 words("study.header", {{"records", counted("records", study.records.size(), words)},
                                        {"people", counted("people", study.people.size(), words)},
                                        {"pairs", counted("pairs", study.overall.pairs, words)}}));
  Markup main = page_section("summary", words("section.summary"), sentences(study, words));
  const auto add = [&](const char* id, const Markup& contents) {
    if (!contents.blank()) main.add(page_section(id, words(std::string("section.") + id), contents));
  };
  Markup agreement;
  const std::vector<Figure> figures = figures_of(study, words);
  if (!figures.empty()) {
    agreement.open("div", {{"class", "figures pair"}});
    for (const Figure& figure : figures) agreement.add(figure_on_page(figure, words, "h3"));
    agreement.close();
    agreement.add(agreement_table(study.overall, words));
  }
  add("agreement", agreement);
  add("verdicts", verdicts_table(study.verdicts, "section.verdicts", words));
  for (const auto& [id, column] : {std::pair{"conditions", "condition"},
                                   {"devices", "device"},
                                   {"skin_tones", "skin_tone"},
                                   {"sexes", "sex"},
                                   {"bmi_groups", "bmi"}})
    add(id, groups_table(study.groups_by(column), (std::string("section.") + id).c_str(),
                         (std::string("study.") + column).c_str(), words));
  add("checklist", verdicts_table(study.checklist, "section.checklist", words));
  if (!study.records.empty()) add("alignment", records_table(study, words));
  add("flow", flow_list(study.flow, words));
  add("origin", origin(study, provenance, words));
  return page_frame(words("study.title_of", {{"input", provenance.input}}), header, main, words);
}

}  // namespace pulsewright
