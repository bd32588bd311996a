#include <algorithm>
#include <cmath>
#include <map>

#include "pulsewright/batch.hpp"

namespace pulsewright {
namespace {

/// Whiskers reach this many interquartile ranges beyond the quartiles (Tukey 1977, Exploratory Data Analysis).
constexpr double fence_ranges = 1.5;
/// Quartiles of fewer values than this say nothing about who stands outside.
constexpr std::size_t fewest_for_fences = 5;

struct NamedField {
  const char* key;
  std::optional<double> BatchRow::*value;
};

constexpr NamedField fields[] = {{"duration_s", &BatchRow::duration_s},
                                 {"readable_percent", &BatchRow::readable_percent},
                                 {"flagged_percent", &BatchRow::flagged_percent},
                                 {"mean_hr_bpm", &BatchRow::mean_hr_bpm},
                                 {"lowest_hr_bpm", &BatchRow::lowest_hr_bpm},
                                 {"peak_hr_bpm", &BatchRow::peak_hr_bpm},
                                 {"mean_nn_ms", &BatchRow::mean_nn_ms},
                                 {"sdnn_ms", &BatchRow::sdnn_ms},
                                 {"rmssd_ms", &BatchRow::rmssd_ms},
                                 {"pnn50_percent", &BatchRow::pnn50_percent},
                                 {"in_target_s", &BatchRow::in_target_s},
                                 {"moderate_or_harder_s", &BatchRow::moderate_or_harder_s}};

/// Interpolated between order statistics at position (n - 1) p.
double quantile(const std::vector<double>& sorted, double p) {
  const double position = p * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(position);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + (position - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

MeasureSummary summary_of(const NamedField& field, std::span<const BatchRow> rows) {
  MeasureSummary summary;
  summary.key = field.key;
  std::vector<double> values;
  for (const BatchRow& row : rows)
    if (row.*field.value) values.push_back(*(row.*field.value));
  summary.count = values.size();
  if (values.empty()) return summary;
  std::sort(values.begin(), values.end());
  summary.lowest = values.front();
  summary.lower_quartile = quantile(values, 0.25);
  summary.median = quantile(values, 0.5);
  summary.upper_quartile = quantile(values, 0.75);
  summary.highest = values.back();
  if (values.size() < fewest_for_fences) return summary;
  const double reach = fence_ranges * (summary.upper_quartile - summary.lower_quartile);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::optional<double>& value = rows[i].*field.value;
    if (value && (*value < summary.lower_quartile - reach || summary.upper_quartile + reach < *value))
      summary.outside.push_back(i);
  }
  return summary;
}

}  // namespace

BatchSummary summarize(std::span<const BatchRow> rows) {
  BatchSummary summary;
  std::map<std::string, std::vector<std::size_t>> by_content;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    switch (rows[i].status) {
      case BatchRow::Status::done: ++summary.done; break;
      case BatchRow::Status::no_value: ++summary.no_value; break;
      case BatchRow::Status::failed: ++summary.failed; break;
    }
    summary.recorded_s += rows[i].duration_s.value_or(0);
    if (!rows[i].sha256.empty()) by_content[rows[i].sha256].push_back(i);
  }
  for (const NamedField& field : fields) {
    MeasureSummary measure = summary_of(field, rows);
    if (measure.count > 0) summary.measures.push_back(std::move(measure));
  }
  for (auto& [content, records] : by_content)
    if (records.size() > 1) summary.repeated.push_back(std::move(records));
  std::sort(summary.repeated.begin(), summary.repeated.end());
  return summary;
}

}  // namespace pulsewright
