#include "8_report/all_warnings.hpp"
#include "8_report/page/traced_numbers.hpp"
#include "8_report/text/absent_values.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/variability_measures.hpp"
#include "session_parts.hpp"

namespace pulsewright {
namespace {

/// Gathers sentences as items of a list.
class Sentences {
 public:
  explicit Sentences(const Words& words) : words_(words) { list_.open("ul", {{"class", "summary"}}); }

  /// `section` is what the sentence rests on: the id of a section of the page, whose heading is under `section.ID`.
  void say(std::string_view key, const char* section, const std::vector<TracedValue>& values) {
    list_.open("li").add(traced_sentence(words_, key, values)).text(" ");
    list_.element("a", {{"class", "see"}, {"href", std::string("#") + section}},
                  words_(std::string("section.") + section));
    list_.close();
  }
  [[nodiscard]] Markup take() { return list_.close(); }

 private:
  const Words& words_;
  Markup list_;
};

/// Less unmeasured time would be told as 0 s.
constexpr std::int64_t least_told_us = 500'000;

void say_rate(Sentences& out, const Analysis& analysis, const Words& words) {
  const Effort& effort = analysis.effort;
  const TracedNumber length = traced_length(effort.duration_us, "effort.duration_s", words);
  if (!effort.mean_rate) {
    out.say("summary.nothing", "rate", {{"length", length}});
    return;
  }
  if (effort.unmeasured_us < least_told_us)
    out.say("summary.throughout", "rate", {{"length", length}});
  else
    out.say("summary.unmeasured", "rate",
            {{"length", length}, {"unmeasured", traced_length(effort.unmeasured_us, "effort.unmeasured_s", words)}});
  if (effort.peak_rate)
    out.say("summary.rate", "rate",
            {{"mean", traced_rate(*effort.mean_rate, "effort.mean_hr_bpm")},
             {"window", traced_number(analysis.rates.options.window.value(), 3, 0, "rate.window_s", words)},
             {"peak", traced_rate(*effort.peak_rate, "effort.peak_hr_bpm")}});
}

void say_target(Sentences& out, const Effort& effort, const Words& words) {
  if (!effort.mean_rate) return;  // nothing was measured: no time anywhere, which is not the same as none in the target
  if (effort.target && effort.in_target_us && effort.below_target_us && effort.above_target_us)
    out.say("summary.target", "effort",
            {{"low", traced_rate(effort.target->low, "effort.target.low_bpm")},
             {"high", traced_rate(effort.target->high, "effort.target.high_bpm")},
             {"inside", traced_length(*effort.in_target_us, "effort.in_target_s", words)},
             {"below", traced_length(*effort.below_target_us, "effort.below_target_s", words)},
             {"above", traced_length(*effort.above_target_us, "effort.above_target_s", words)}});
  if (effort.category_us) {
    const auto time = [&](Intensity intensity) {
      return traced_length((*effort.category_us)[static_cast<std::size_t>(intensity)],
                           std::string("effort.") + to_string(intensity) + "_s", words);
    };
    out.say("summary.intensity", "effort",
            {{"moderate", time(Intensity::moderate)},
             {"vigorous", time(Intensity::vigorous)},
             {"near_maximal", time(Intensity::near_maximal)}});
  }
  if (effort.above_ceiling_us)
    out.say("summary.ceiling", "effort",
            {{"above", traced_length(*effort.above_ceiling_us, "effort.above_ceiling_s", words)}});
}

void say_person(Sentences& out, const Effort& effort, const Words& words) {
  if (effort.mean_reserve_percent && effort.resting && effort.maximum)
    out.say("summary.reserve", "effort",
            {{"percent", traced_number(*effort.mean_reserve_percent, 2, 0, "effort.mean_reserve_percent", words)},
             {"resting", traced_rate(effort.resting->rate, "effort.resting_hr_bpm")},
             {"maximum", traced_rate(effort.maximum->rate, "effort.maximum_hr_bpm")}});
  if (effort.resting && effort.resting->source == RestingSource::lowest_minute)
    out.say("summary.resting_read", "effort", {});
  if (effort.maximum && effort.maximum->source != MaximumSource::measured)
    out.say("summary.maximum_formula", "effort",
            {{"maximum", traced_rate(effort.maximum->rate, "effort.maximum_hr_bpm")}});
}

/// How many edits of reviewers lie on top of the beats that were found.
std::int64_t edits_of(const Provenance& provenance) {
  const Json options = Json::parse_or_discard(provenance.options);
  return options.is_object() && options.contains("edits") ? static_cast<std::int64_t>(options["edits"].size()) : 0;
}

void say_beats(Sentences& out, const Analysis& analysis, const Words& words) {
  const auto accepted = static_cast<std::int64_t>(analysis.beats.accepted().size());
  const auto rejected = static_cast<std::int64_t>(analysis.beats.candidates.size()) - accepted;
  const bool found = analysis.beats.source == BeatSource::ecg || analysis.beats.source == BeatSource::pulse;
  if (found)
    out.say("summary.beats", "signal",
            {{"beats", traced_count(accepted, "beats.beats_count")},
             {"source", {words(std::string("source.") + to_string(analysis.beats.source)), "", ""}},
             {"rejected", traced_count(rejected, "beats.rejected_count")}});
  else
    out.say("summary.beats_given", "origin", {{"beats", traced_count(accepted, "beats.beats_count")}});
  if (const std::int64_t edits = edits_of(analysis.beats.provenance); edits > 0)
    out.say("summary.edits", "origin", {{"edits", {words.counted("edits", edits), "", ""}}});
  if (const auto flagged = analysis.intervals.flagged_percent())
    out.say("summary.flagged", "intervals",
            {{"flagged", traced_number(*flagged, 2, 1, "intervals.flagged_percent", words)}});
  if (analysis.variability.rmssd_ms)
    out.say("summary.rmssd", "numbers",
            {{"rmssd", traced_number(*analysis.variability.rmssd_ms, 3, 0, "variability.rmssd_ms", words)}});
}

/// Reasons of the measures that the report shows.
std::vector<Reason> principal_reasons(const Variability& variability) {
  std::vector<Reason> reasons;
  for (const VariabilityMeasure& measure : principal_measures(variability))
    for (const Reason& reason : variability.reasons)
      if (reason.measure == measure.key) reasons.push_back(reason);
  return reasons;
}

}  // namespace

Markup summary_sentences(const Analysis& analysis, const Words& words) {
  Sentences out(words);
  say_rate(out, analysis, words);
  say_target(out, analysis.effort, words);
  say_person(out, analysis.effort, words);
  say_beats(out, analysis, words);
  if (const auto noticed = static_cast<std::int64_t>(all_warnings(analysis).size()); noticed > 0)
    out.say("summary.noticed", "origin", {{"notes", {words.counted("notes", noticed), "", ""}}});
  Markup result = out.take();
  std::vector<Reason> reasons = analysis.effort.reasons;
  const std::vector<Reason> variability = principal_reasons(analysis.variability);
  reasons.insert(reasons.end(), variability.begin(), variability.end());
  if (!reasons.empty())
    result.element("p", {{"class", "quiet"}}, words("summary.absent")).add(absent_values(reasons, words));
  return result;
}

}  // namespace pulsewright
