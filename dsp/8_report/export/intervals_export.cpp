#include <algorithm>
#include <array>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

constexpr std::array all_verdicts{
    IntervalVerdict::normal,     IntervalVerdict::missed_beat,        IntervalVerdict::extra_beat,
    IntervalVerdict::early_beat, IntervalVerdict::compensatory_pause, IntervalVerdict::misplaced,
    IntervalVerdict::gap};

/// What a verdict means, for people.
const char* explain(IntervalVerdict verdict) {
  switch (verdict) {
    case IntervalVerdict::normal: return "between two beats in their normal turn";
    case IntervalVerdict::missed_beat: return "long enough for a beat that was not found";
    case IntervalVerdict::extra_beat: return "starts or ends at a detection that is no beat";
    case IntervalVerdict::early_beat: return "ends at a beat that came early";
    case IntervalVerdict::compensatory_pause: return "the pause after an early beat";
    case IntervalVerdict::misplaced: return "one neighbour as much too long as the other is too short";
    case IntervalVerdict::gap: return "runs over unreadable time, or longer than any heart pauses";
  }
  return "";
}

std::int64_t count_of(const Intervals& intervals, IntervalVerdict verdict) {
  return std::count_if(intervals.intervals.begin(), intervals.intervals.end(),
                       [verdict](const Interval& interval) { return interval.verdict == verdict; });
}

constexpr const char* left_out = "a flagged interval without a trustworthy replacement is left out";

}  // namespace

std::string intervals_csv(const Intervals& intervals, const NumberStyle& style) {
  CsvTable table({"start_s", "end_s", "original_ms", "verdict", "corrected_ms"}, style);
  for (const Interval& interval : intervals.intervals) {
    table.number(interval.start.value(), 6).number(interval.end.value(), 6).number(interval.original_ms, 3);
    table.text(to_string(interval.verdict)).number(interval.corrected_ms, 3).end_row();
  }
  return table.take();
}

Json intervals_body(const Intervals& intervals, Reasons& reasons) {
  Json body = Json::object();
  body["duration_s"] = json_number(intervals.duration.value(), 6);
  body["intervals_count"] = static_cast<std::int64_t>(intervals.intervals.size());
  put(body, reasons, "flagged_percent", intervals.flagged_percent(), 2, "there are no intervals");
  body["verdicts"] = Json::object();
  for (const IntervalVerdict verdict : all_verdicts)
    body["verdicts"][std::string(to_string(verdict)) + "_count"] = count_of(intervals, verdict);
  body["intervals"] = Json::array();
  for (const Interval& interval : intervals.intervals) {
    Json row = {{"start_s", json_number(interval.start.value(), 6)},
                {"end_s", json_number(interval.end.value(), 6)},
                {"original_ms", json_number(interval.original_ms, 3)},
                {"verdict", to_string(interval.verdict)}};
    put(row, reasons, "corrected_ms", interval.corrected_ms, 3, left_out);
    row["missed_inside_count"] = interval.missed_inside;
    row["merged_rows_count"] = interval.merged_rows;
    body["intervals"].push_back(std::move(row));
  }
  return body;
}

std::string intervals_json(const Intervals& intervals) {
  Reasons reasons;
  const Json body = intervals_body(intervals, reasons);
  return json_document("intervals", body, reasons, intervals.warnings, intervals.provenance);
}

std::string intervals_text(const Intervals& intervals) {
  TextPage page;
  page.heading("Intervals of " + intervals.provenance.input);
  page.row("intervals", std::to_string(intervals.intervals.size()));
  page.row("flagged", with_unit(format_number(intervals.flagged_percent(), 1), "%"),
           "share of intervals that are not normal");
  const auto replaced = std::count_if(intervals.intervals.begin(), intervals.intervals.end(), [](const Interval& i) {
    return i.verdict != IntervalVerdict::normal && i.corrected_ms.has_value();
  });
  const auto dropped = std::count_if(intervals.intervals.begin(), intervals.intervals.end(),
                                     [](const Interval& i) { return !i.corrected_ms.has_value(); });
  page.row("replaced", std::to_string(replaced),
           "from the course of their normal neighbours; the originals stay in the list");
  page.row("left out", std::to_string(dropped), "no trustworthy replacement");
  page.blank().heading("What the intervals were judged to be");
  for (const IntervalVerdict verdict : all_verdicts)
    page.row(spaced(to_string(verdict)), std::to_string(count_of(intervals, verdict)), explain(verdict));
  return page.take();
}

}  // namespace pulsewright
