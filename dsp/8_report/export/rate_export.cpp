#include <algorithm>
#include <array>
#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

std::optional<double> value_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

/// The windows that have a rate.
std::vector<RateWindow> measured(const RateSeries& rates) {
  std::vector<RateWindow> kept;
  std::copy_if(rates.windows.begin(), rates.windows.end(), std::back_inserter(kept),
               [](const RateWindow& window) { return window.rate.has_value(); });
  return kept;
}

/// A long series is shown in at most this many stretches of a round length.
constexpr double most_stretches = 12;
constexpr std::array<double, 9> round_lengths_s{10, 30, 60, 120, 300, 600, 1800, 3600, 7200};

double stretch_length_s(Seconds duration) {
  for (const double length : round_lengths_s)
    if (duration.value() <= most_stretches * length) return length;
  return std::ceil(duration.value() / most_stretches / 3600) * 3600;
}

/// Length of a bar for eyes that compare: one mark for 10 beats/min.
std::string bar(double bpm) { return std::string(static_cast<std::size_t>(std::clamp(bpm / 10, 0.0, 30.0)), '='); }

std::vector<std::string> stretch_row(const std::vector<RateWindow>& windows, double begin, double end) {
  double sum = 0, lowest = 0, highest = 0;
  int count = 0, all = 0;
  for (const RateWindow& window : windows) {
    const double centre = (window.window.start.value() + window.window.end.value()) / 2;
    if (centre < begin || centre >= end) continue;
    ++all;
    if (!window.rate) continue;
    const double bpm = window.rate->value();
    lowest = count == 0 ? bpm : std::min(lowest, bpm);
    highest = std::max(highest, bpm);
    sum += bpm;
    ++count;
  }
  const std::string from = format_clock(Seconds{begin}) + " to " + format_clock(Seconds{end});
  const std::string share = std::to_string(count) + " of " + std::to_string(all);
  if (count == 0) return {from, "-", "-", "-", share};
  const auto whole = [](double bpm) { return std::to_string(whole_beats(BeatsPerMinute{bpm})); };
  return {from, whole(sum / count), whole(lowest), whole(highest), share, bar(sum / count)};
}

}  // namespace

std::string rate_csv(const RateSeries& rates, const NumberStyle& style) {
  CsvTable table({"start_s", "end_s", "bpm", "low_bpm", "high_bpm", "confidence", "method"}, style);
  for (const RateWindow& window : rates.windows) {
    table.number(window.window.start.value(), 3).number(window.window.end.value(), 3);
    table.number(value_of(window.rate), 2).number(value_of(window.low), 2).number(value_of(window.high), 2);
    table.number(window.confidence, 3).text(to_string(window.method)).end_row();
  }
  return table.take();
}

Json rate_body(const RateSeries& rates, Reasons& reasons) {
  static constexpr const char* why =
      "a window that is mostly unreadable, or whose rate cannot be trusted (too few beats, flagged intervals, no clear "
      "spectrum), has none";
  Json body = Json::object();
  body["duration_s"] = json_number(rates.duration.value(), 6);
  body["window_s"] = json_number(rates.options.window.value(), 3);
  body["step_s"] = json_number(rates.options.step.value(), 3);
  body["windows_count"] = static_cast<std::int64_t>(rates.windows.size());
  body["measured_count"] = static_cast<std::int64_t>(measured(rates).size());
  body["windows"] = Json::array();
  for (const RateWindow& window : rates.windows) {
    Json row = {{"start_s", json_number(window.window.start.value(), 3)},
                {"end_s", json_number(window.window.end.value(), 3)}};
    put(row, reasons, "bpm", value_of(window.rate), 2, why);
    put(row, reasons, "low_bpm", value_of(window.low), 2, why);
    put(row, reasons, "high_bpm", value_of(window.high), 2, why);
    put(row, reasons, "confidence", window.confidence, 3, why);
    row["method"] = to_string(window.method);
    body["windows"].push_back(std::move(row));
  }
  return body;
}

std::string rate_json(const RateSeries& rates) {
  Reasons reasons;
  const Json body = rate_body(rates, reasons);
  return json_document("rate", body, reasons, rates.warnings, rates.provenance);
}

std::string rate_text(const RateSeries& rates) {
  TextPage page;
  page.heading("Heart rate of " + rates.provenance.input);
  const std::vector<RateWindow> good = measured(rates);
  page.row("windows", std::to_string(rates.windows.size()),
           "of " + format_number(rates.options.window.value(), 0) + " s, one every " +
               format_number(rates.options.step.value(), 0) + " s, full windows only");
  const auto by_spectrum = std::count_if(
      good.begin(), good.end(), [](const RateWindow& window) { return window.method == RateMethod::spectrum; });
  page.row("measured", std::to_string(good.size()), "the others are mostly unreadable or not to be trusted");
  if (by_spectrum > 0)
    page.row("  by spectrum", std::to_string(by_spectrum),
             "where single beats cannot be told from motion; the rest by beats");
  if (good.empty()) return page.take();

  const auto by_rate = [](const RateWindow& a, const RateWindow& b) { return *a.rate < *b.rate; };
  const auto [lowest, highest] = std::minmax_element(good.begin(), good.end(), by_rate);
  const auto when = [](const RateWindow& window) {
    return "from " + format_clock(window.window.start) + " to " + format_clock(window.window.end);
  };
  page.row("lowest", with_unit(std::to_string(whole_beats(*lowest->rate)), "beats/min"), when(*lowest));
  page.row("highest", with_unit(std::to_string(whole_beats(*highest->rate)), "beats/min"), when(*highest));
  const auto unsure = std::min_element(good.begin(), good.end(), [](const RateWindow& a, const RateWindow& b) {
    return a.confidence.value_or(0) < b.confidence.value_or(0);
  });
  page.row("least sure", with_unit(format_number(100 * unsure->confidence.value_or(0), 0), "%"),
           when(*unsure) + "; the chance that the rate lies within 5 beats/min of the truth");

  page.blank().heading("Course, in beats/min");
  std::vector<std::vector<std::string>> rows{{"time", "mean", "lowest", "highest", "windows measured"}};
  const double length = stretch_length_s(rates.duration);
  for (double begin = 0; begin < rates.duration.value(); begin += length)
    rows.push_back(stretch_row(rates.windows, begin, std::min(begin + length, rates.duration.value())));
  page.table(rows);
  return page.take();
}

}  // namespace pulsewright
