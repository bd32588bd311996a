#include <algorithm>
#include <map>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

double total_s(const std::vector<Span>& spans) {
  Seconds total;
  for (const Span& span : spans) total += span.length();
  return total.value();
}

/// The most stretches that a page names one by one.
constexpr std::size_t most_spans_named = 6;

std::string name_spans(const std::vector<Span>& spans) {
  std::string text;
  for (std::size_t i = 0; i < std::min(spans.size(), most_spans_named); ++i)
    text += (i > 0 ? ", " : "") + format_clock(spans[i].start) + " to " + format_clock(spans[i].end);
  if (spans.size() > most_spans_named) text += ", and " + std::to_string(spans.size() - most_spans_named) + " more";
  return text;
}

bool is_listed(const Beat& beat, const BeatListing& listing) {
  return listing.rejected || beat.verdict == BeatVerdict::accepted;
}

std::optional<double> foot_s(const Beat& beat) { return beat.foot ? std::optional{beat.foot->value()} : std::nullopt; }

}  // namespace

std::optional<double> readable_percent(const BeatTrain& beats) {
  if (!(beats.duration.value() > 0)) return std::nullopt;
  return std::max(0.0, 100.0 * (1.0 - total_s(beats.unreadable) / beats.duration.value()));
}

std::string beats_csv(const BeatTrain& beats, const BeatListing& listing, const NumberStyle& style) {
  CsvTable table({}, style);
  table.text("time_s").text("sample").text("confidence");
  if (listing.feet) table.text("foot_s");
  if (listing.labels) table.text("label");
  if (listing.rejected) table.text("verdict");
  table.end_row();
  for (const Beat& beat : beats.candidates) {
    if (!is_listed(beat, listing)) continue;
    table.number(beat.time.value(), 6).count(beat.sample.value()).number(beat.confidence, 3);
    if (listing.feet) table.number(foot_s(beat), 6);
    if (listing.labels) table.text(to_string(beat.label));
    if (listing.rejected) table.text(to_string(beat.verdict));
    table.end_row();
  }
  return table.take();
}

Json beats_body(const BeatTrain& beats, const BeatListing& listing, Reasons& reasons) {
  const auto accepted = static_cast<std::int64_t>(beats.accepted().size());
  Json body = Json::object();
  body["source"] = to_string(beats.source);
  body["duration_s"] = json_number(beats.duration.value(), 6);
  body["beats_count"] = accepted;
  body["rejected_count"] = static_cast<std::int64_t>(beats.candidates.size()) - accepted;
  put(body, reasons, "readable_percent", readable_percent(beats), 2, "the recording has no length");
  body["unreadable_s"] = json_number(total_s(beats.unreadable), 6);
  body["unreadable"] = json_spans(beats.unreadable);
  body["beats"] = Json::array();
  for (const Beat& beat : beats.candidates) {
    if (!is_listed(beat, listing)) continue;
    Json row = {{"time_s", json_number(beat.time.value(), 6)},
                {"sample", beat.sample.value()},
                {"confidence", json_number(beat.confidence, 3)},
                {"verdict", to_string(beat.verdict)},
                {"label", to_string(beat.label)}};
    if (listing.feet) row["foot_s"] = json_number(foot_s(beat), 6);
    body["beats"].push_back(std::move(row));
  }
  return body;
}

std::string beats_json(const BeatTrain& beats, const BeatListing& listing) {
  Reasons reasons;
  const Json body = beats_body(beats, listing, reasons);
  return json_document("beats", body, reasons, beats.warnings, beats.provenance);
}

std::string beats_text(const BeatTrain& beats) {
  const std::vector<Beat> accepted = beats.accepted();
  TextPage page;
  page.heading("Beats of " + beats.provenance.input);
  page.row("source", to_string(beats.source));
  page.row("length", format_clock(beats.duration), with_unit(brief_number(beats.duration.value(), 3), "s"));
  page.row("beats", std::to_string(accepted.size()));
  std::map<std::string, int> rejected;
  for (const Beat& beat : beats.candidates)
    if (beat.verdict != BeatVerdict::accepted) ++rejected[spaced(to_string(beat.verdict))];
  std::string why;
  int rejected_count = 0;
  for (const auto& [verdict, count] : rejected) {
    why += (why.empty() ? "" : ", ") + std::to_string(count) + " " + verdict;
    rejected_count += count;
  }
  page.row("rejected candidates", std::to_string(rejected_count), why);
  const std::string unreadable = beats.unreadable.empty() ? "" : "not " + name_spans(beats.unreadable);
  page.row("readable", with_unit(format_number(readable_percent(beats), 1), "% of the time"), unreadable);
  if (!accepted.empty()) {
    page.row("first beat", with_unit(format_number(accepted.front().time.value(), 3), "s"));
    page.row("last beat", with_unit(format_number(accepted.back().time.value(), 3), "s"));
    const auto unsure = std::min_element(accepted.begin(), accepted.end(),
                                         [](const Beat& a, const Beat& b) { return a.confidence < b.confidence; });
    page.row(
        "least sure beat", with_unit(format_number(100 * unsure->confidence, 0), "%"),
        "at " + format_number(unsure->time.value(), 3) + " s; the chance that it lies within 150 ms of a true beat");
  }
  return page.take();
}

}  // namespace pulsewright
