#include <fmt/format.h>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/paired_report.hpp"

namespace pulsewright {
namespace {

constexpr int decimals = 4;

/// A number of the comparison: its key, how people read it, and whether it has the unit of the values.
struct PairedMeasure {
  const char* key;
  const char* label;
  std::optional<Estimate> value;
  const char* unit;  ///< nothing: that of the values
};

std::optional<Estimate> bare(std::optional<double> value) {
  return value ? std::optional<Estimate>(Estimate{*value, std::nullopt, std::nullopt}) : std::nullopt;
}

std::vector<PairedMeasure> measures_of(const PairedAgreement& a) {
  const LimitsOfAgreement* l = a.repeated ? &a.repeated->limits : a.plain ? &*a.plain : nullptr;
  const auto limit = [l](Estimate LimitsOfAgreement::*part) {
    return l ? std::optional<Estimate>(l->*part) : std::nullopt;
  };
  const auto icc = [&a](Estimate IntraclassCorrelations::*part) {
    return a.intraclass ? std::optional<Estimate>((*a.intraclass).*part) : std::nullopt;
  };
  const auto repeated = [&a](Estimate RepeatedLimits::*part) {
    return a.repeated ? std::optional<Estimate>((*a.repeated).*part) : std::nullopt;
  };
  return {{"bias", "bias", limit(&LimitsOfAgreement::bias), nullptr},
          {"bias_of_people", "bias, people counting",
           a.of_people && a.repeated ? std::optional(a.of_people->mean) : std::nullopt, nullptr},
          {"sd", "SD of differences",
           a.repeated ? repeated(&RepeatedLimits::sd) : bare(l ? std::optional(l->sd) : std::nullopt), nullptr},
          {"between_people_sd", "SD between people", repeated(&RepeatedLimits::between_sd), nullptr},
          {"within_people_sd", "SD within people", repeated(&RepeatedLimits::within_sd), nullptr},
          {"lower_limit", "lower limit", limit(&LimitsOfAgreement::lower), nullptr},
          {"upper_limit", "upper limit", limit(&LimitsOfAgreement::upper), nullptr},
          {"ratio_lower_limit", "lower limit as a ratio", a.ratio ? std::optional(a.ratio->lower) : std::nullopt, ""},
          {"ratio_upper_limit", "upper limit as a ratio", a.ratio ? std::optional(a.ratio->upper) : std::nullopt, ""},
          {"mean_absolute_error", "mean absolute error", a.mean_absolute_error, nullptr},
          {"mean_absolute_percentage_error", "the same in per cent", a.mean_absolute_percentage_error, "%"},
          {"root_mean_square_error", "root mean square error", a.root_mean_square_error, nullptr},
          {"trend_slope", "bias with the mean", a.trend ? std::optional(a.trend->slope) : std::nullopt, ""},
          {"correlation", "Pearson r", a.correlation, ""},
          {"concordance", "concordance (Lin 1989)", a.concordance_population, ""},
          {"icc_1_1", "ICC(1,1)", icc(&IntraclassCorrelations::one_way), ""},
          {"icc_2_1", "ICC(2,1)", icc(&IntraclassCorrelations::agreement), ""},
          {"icc_3_1", "ICC(3,1)", icc(&IntraclassCorrelations::consistency), ""}};
}

}  // namespace

std::string paired_text(const PairedAgreement& agreement, const PairedNames& names) {
  TextPage page;
  page.heading(fmt::format("{} against {}: {} of {}, test minus reference{} (95 % intervals in brackets)", names.test,
                           names.reference, counted(static_cast<long long>(agreement.pairs), "pair", "pairs"),
                           counted(static_cast<long long>(agreement.people), "person", "people"),
                           names.unit.empty() ? "" : ", " + names.unit));
  for (const PairedMeasure& measure : measures_of(agreement)) {
    if (!measure.value) continue;
    const Estimate& e = *measure.value;
    const std::string unit = measure.unit != nullptr ? measure.unit : names.unit;
    std::string text = with_unit(format_number(e.value, 3), unit);
    if (e.low && e.high) text += " (" + format_number(*e.low, 3) + " to " + format_number(*e.high, 3) + ")";
    page.row(measure.label, text);
  }
  for (const Reason& reason : agreement.reasons) page.paragraph("No " + reason.measure + ": " + reason.reason + ".");
  return page.take();
}

std::string paired_csv(const PairedAgreement& agreement, const NumberStyle& style) {
  CsvTable table({"measure", "value", "low", "high"}, style);
  for (const PairedMeasure& measure : measures_of(agreement)) {
    const auto& e = measure.value;
    table.text(measure.key).number(e ? std::optional<double>(e->value) : std::nullopt, decimals);
    table.number(e ? e->low : std::nullopt, decimals).number(e ? e->high : std::nullopt, decimals).end_row();
  }
  return table.take();
}

std::string paired_json(const PairedAgreement& agreement, const PairedNames& names, const Warnings& warnings,
                        const Provenance& provenance) {
  Json body = {{"reference", names.reference},
               {"test", names.test},
               {"unit", names.unit},
               {"pairs_count", agreement.pairs},
               {"people_count", agreement.people}};
  Reasons reasons;
  constexpr const char* absent = "the pairs do not tell it";
  constexpr const char* no_interval = "an interval over people needs five people, and this measure has one at all";
  body["measures"] = Json::array();
  for (const PairedMeasure& measure : measures_of(agreement)) {
    const auto& e = measure.value;
    Json row = {{"measure", measure.key}};
    put(row, reasons, "value", e ? std::optional<double>(e->value) : std::nullopt, decimals, absent);
    put(row, reasons, "low", e ? e->low : std::nullopt, decimals, e ? no_interval : absent);
    put(row, reasons, "high", e ? e->high : std::nullopt, decimals, e ? no_interval : absent);
    body["measures"].push_back(std::move(row));
  }
  return json_document("paired_comparison", body, reasons, warnings, provenance);
}

}  // namespace pulsewright
