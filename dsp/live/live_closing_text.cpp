#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/live_closing.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t most_listed = 4;

std::string list_of(const std::vector<Span>& spans) {
  std::string list;
  for (std::size_t i = 0; i < std::min(most_listed, spans.size()); ++i)
    list += fmt::format("{}{} to {}", i > 0 ? ", " : "", format_clock(spans[i].start), format_clock(spans[i].end));
  if (spans.size() > most_listed) list += fmt::format(" and {} more", spans.size() - most_listed);
  return list;
}

double seconds_of(std::int64_t us) { return static_cast<double>(us) / 1e6; }

}  // namespace

std::string live_closing_text(const LiveClosing& closing, const std::string& title) {
  const Effort& effort = closing.whole.effort;
  std::string text = fmt::format("{}: {} recorded", title, format_clock(closing.whole.rates.duration));
  if (!effort.mean_rate) return text + "; no heart rate could be measured in it\n";
  text += fmt::format(", of them {} measured\n  mean {} beats/min",
                      format_clock(Seconds{seconds_of(effort.duration_us - effort.unmeasured_us)}),
                      whole_beats(*effort.mean_rate));
  if (effort.peak_rate) text += fmt::format(", highest {}", whole_beats(*effort.peak_rate));
  if (effort.in_target_us)
    text += fmt::format("; in the target of {} to {} for {}", whole_beats(effort.target->low),
                        whole_beats(effort.target->high), format_clock(Seconds{seconds_of(*effort.in_target_us)}));
  const BeatAgreement& beats = closing.beats;
  text += fmt::format(
      "\n  seen as a whole it has {} beats; while it ran {} of them were shown, {} missed, and {} shown that "
      "are none\n",
      beats.true_positives + beats.false_negatives, beats.true_positives, beats.false_negatives, beats.false_positives);
  if (closing.mean_absolute_difference_bpm) {
    text += fmt::format("  the rate shown differed by {} beats/min on average",
                        format_number(closing.mean_absolute_difference_bpm, 1));
    text += closing.rates_apart.empty() ? ", and never by more than 5\n"
                                        : fmt::format(", by more than 5 at {}\n", list_of(closing.rates_apart));
  }
  return text;
}

}  // namespace pulsewright
