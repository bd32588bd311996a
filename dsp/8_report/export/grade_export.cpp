#include <fmt/format.h>

#include <algorithm>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

struct Measure {
  const char* key;
  std::optional<double> value;
  int decimals;
  const char* label;
  const char* unit;  ///< nullptr: the channel's own
  const char* note;
};

std::vector<Measure> measures(const ChannelGrade& g) {
  const auto hum = g.hum ? std::optional<double>(g.hum->rms) : std::nullopt;
  return {{"step", g.step, 6, "step", nullptr, "smallest distance between two values"},
          {"range", g.range, 6, "range in use", nullptr, "lowest to highest thousandth"},
          {"noise_rms", g.noise_rms, 6, "noise floor", nullptr, "RMS of white noise, from the top of the band"},
          {"effective_bits", g.effective_bits, 2, "effective bits", "",
           "full scale over noise, log2(range / (noise sqrt 12))"},
          {"signal_to_noise_db", g.signal_to_noise_db, 1, "signal to noise", "dB", "of the conditioned wave"},
          {"jitter_ms", g.jitter_ms, 4, "jitter", "ms", "SD of the moments of sampling"},
          {"lost_percent", g.lost_percent, 4, "lost samples", "%", ""},
          {"longest_gap_s", g.longest_gap.value(), 3, "longest gap", "s", ""},
          {"clipped_percent", g.clipped_percent, 3, "clipped", "%", "runs of three or more at an end of the range"},
          {"hum_rms", hum, 6, "hum", nullptr, ""},
          {"perfusion_percent", g.perfusion_percent, 3, "perfusion index", "%", "pulse height over steady light"},
          {"readable_percent", g.readable_percent, 2, "readable", "%", "time in which beats could be looked for"}};
}

}  // namespace

std::string grade_text(const SensorGrade& grade) {
  TextPage page;
  page.heading("Grade of " + grade.provenance.input);
  for (const ChannelGrade& g : grade.channels) {
    page.blank().heading(fmt::format("{} ({}, {} Hz, {} samples)", g.channel, to_string(g.kind),
                                     brief_number(g.rate.value(), 3), g.samples));
    for (const Measure& m : measures(g)) {
      std::string note = m.note;
      if (std::string_view(m.key) == "hum_rms" && g.hum)
        note = fmt::format("mains at {:.0f} Hz, seen at {} Hz", g.hum->mains.value(),
                           format_number(g.hum->seen_at.value(), 1));
      const std::string unit = m.unit == nullptr ? g.unit : m.unit;
      page.row(m.label, m.value ? with_unit(brief_number(m.value, std::min(m.decimals, 4)), unit) : "none", note);
    }
    for (const NeededRate& n : g.needed)
      page.row(n.met ? "fast enough for" : "too slow for", spaced(n.measure),
               fmt::format("needs {} Hz: {}", format_number(n.needed.value(), 1), n.rule));
    add_reasons(page, g.reasons);
  }
  return page.take();
}

std::string grade_csv(const SensorGrade& grade, const NumberStyle& style) {
  CsvTable table({"channel", "kind", "unit", "rate_hz", "samples_count", "lost_count", "step", "range", "noise_rms",
                  "effective_bits", "signal_to_noise_db", "jitter_ms", "lost_percent", "longest_gap_s",
                  "clipped_percent", "hum_rms", "perfusion_percent", "readable_percent"},
                 style);
  for (const ChannelGrade& g : grade.channels) {
    table.text(g.channel).text(to_string(g.kind)).text(g.unit).number(g.rate.value(), 6).count(g.samples).count(g.lost);
    for (const Measure& m : measures(g)) table.number(m.value, m.decimals);
    table.end_row();
  }
  return table.take();
}

std::string grade_json(const SensorGrade& grade) {
  Reasons of_document;
  Json body = Json::object();
  body["channels"] = Json::array();
  for (const ChannelGrade& g : grade.channels) {
    Reasons reasons(g.reasons);
    Json channel = {{"channel", g.channel},
                    {"kind", to_string(g.kind)},
                    {"unit", g.unit},
                    {"rate_hz", json_number(g.rate.value(), 6)},
                    {"samples_count", g.samples},
                    {"lost_count", g.lost}};
    for (const Measure& m : measures(g)) put(channel, reasons, m.key, m.value, m.decimals, "could not be told");
    put(channel, reasons, "hum_mains_hz", g.hum ? std::optional(g.hum->mains.value()) : std::nullopt, 1,
        "there is no hum");
    put(channel, reasons, "hum_seen_at_hz", g.hum ? std::optional(g.hum->seen_at.value()) : std::nullopt, 3,
        "there is no hum");
    channel["needed_rates"] = Json::array();
    for (const NeededRate& n : g.needed)
      channel["needed_rates"].push_back(
          {{"measure", n.measure}, {"rule", n.rule}, {"needed_hz", json_number(n.needed.value(), 2)}, {"met", n.met}});
    channel["reasons"] = reasons.json();
    body["channels"].push_back(std::move(channel));
  }
  return json_document("grade", body, of_document, grade.warnings, grade.provenance);
}

}  // namespace pulsewright
