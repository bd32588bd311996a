#include <array>

#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

std::string resting_text(BeatsPerMinute resting, std::optional<double> age_years,
                         const std::optional<RestingCount>& count) {
  TextPage page;
  page.heading("Resting rate of " + std::to_string(whole_beats(resting)) + " beats/min");
  std::string reading = describe(compare_resting(resting, age_years));
  reading.front() = 'B';
  page.paragraph(reading + ".");
  if (!count) return page.take();
  page.blank().heading("What counting whole beats may be off by, in beats/min");
  std::vector<std::vector<std::string>> rows{
      {"counted over", "one beat is worth", "error of a count (RMS)", "on average too low by"}};
  for (const int seconds : {10, 15, 20, 30, 60}) {
    // The rounding error depends on the time alone; the beats only have to give a rate.
    const CountedResting counted = counted_resting({seconds, Seconds{static_cast<double>(seconds)}, count->start});
    rows.push_back(
        {std::to_string(seconds) + " s" + (Seconds{static_cast<double>(seconds)} == count->length ? " (this one)" : ""),
         format_number(counted.per_beat.value(), 0), format_number(counted.rms_error_bpm, 2),
         format_number(-counted.bias_bpm, 1)});
  }
  page.table(rows);
  page.paragraph(
      count->start == CountStart::on_a_beat
          ? "The watch was started on a beat that counts as zero: the count then misses half a beat on average."
          : "The watch was started at any moment. Measured error of a 15 s count: 1.89 beats/min (Kobayashi 2013, "
            "Ergonomics 56:1940).");
  return page.take();
}

}  // namespace pulsewright
