#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/beat_edits.hpp"

namespace pulsewright {
namespace {

Json edit_body(const BeatEdit& edit, Reasons& reasons) {
  Json body = {{"action", to_string(edit.action)}, {"time_s", json_number(edit.time.value(), 6)}};
  const std::optional<double> to = edit.to ? std::optional<double>(edit.to->value()) : std::nullopt;
  put(body, reasons, "to_s", to, 6, "only a move has another place");
  body["label"] = to_string(edit.label);
  body["author"] = edit.author;
  body["made_at"] = edit.made_at;
  body["reason"] = edit.reason;
  return body;
}

Json edit_or_null(const std::optional<BeatEdit>& edit, const char* key, const char* why, Reasons& reasons) {
  if (edit) return edit_body(*edit, reasons);
  reasons.explain(key, why);
  return nullptr;
}

std::string in_words(const std::optional<BeatEdit>& edit) {
  if (!edit) return "leaves the beat alone";
  std::string words = to_string(edit->action);
  if (edit->to) words += " to " + format_number(edit->to->value(), 3) + " s";
  if (edit->label != BeatLabel::unlabelled) words += std::string(" (") + to_string(edit->label) + ")";
  return words + ", " + edit->author + ": " + edit->reason;
}

}  // namespace

std::string adjudication_json(const EditComparison& comparison, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["agreed_count"] = static_cast<std::int64_t>(comparison.agreed.size());
  body["disputed_count"] = static_cast<std::int64_t>(comparison.disputes.size());
  body["open_count"] = static_cast<std::int64_t>(comparison.open());
  const auto all = static_cast<double>(comparison.agreed.size() + comparison.disputes.size());
  put(body, reasons, "agreed_percent",
      all > 0.0 ? std::optional<double>(100.0 * static_cast<double>(comparison.agreed.size()) / all) : std::nullopt, 2,
      "there are no edits");
  body["agreed"] = Json::array();
  for (const BeatEdit& edit : comparison.agreed) body["agreed"].push_back(edit_body(edit, reasons));
  body["disputes"] = Json::array();
  for (const EditComparison::Dispute& dispute : comparison.disputes)
    body["disputes"].push_back(
        {{"first", edit_or_null(dispute.first, "first", "the first reviewer left the beat alone", reasons)},
         {"second", edit_or_null(dispute.second, "second", "the second reviewer left the beat alone", reasons)},
         {"decision", edit_or_null(dispute.decision, "decision", "nobody has decided yet", reasons)}});
  return json_document("adjudication", body, reasons, {}, provenance);
}

std::string adjudication_text(const EditComparison& comparison) {
  TextPage page;
  page.heading("Two reviewers' edits");
  page.row("agreed", std::to_string(comparison.agreed.size()));
  page.row("disputed", std::to_string(comparison.disputes.size()));
  page.row("open", std::to_string(comparison.open()), "disputed and not decided; they change nothing");
  for (const EditComparison::Dispute& dispute : comparison.disputes) {
    const Seconds time = dispute.first ? dispute.first->time : dispute.second->time;
    page.blank().heading("At " + format_number(time.value(), 3) + " s");
    page.row("first", in_words(dispute.first)).row("second", in_words(dispute.second));
    page.row("decision", dispute.decision ? in_words(dispute.decision) : "open");
  }
  return page.take();
}

}  // namespace pulsewright
