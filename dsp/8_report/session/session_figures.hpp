/// The figures of one session. Each is made from finished results and stands in any report.
#pragma once

#include <optional>
#include <vector>

#include "8_report/figure/figure.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {

/// The rate over windows with its 95 % interval, the target, the intensity categories, and the time that was not measured, hatched. More than a
/// thousand windows are drawn in columns, each from its lowest to its highest rate. No windows: an empty plot that is hatched all over. With a session its phases stand under the plot.
[[nodiscard]] Figure rate_figure(const Analysis& analysis, const SessionEffort* session, const Words& words);

/// The rate about the last stop, those one and two minutes later, and the curve fitted to the fall, where it deserves one. Nothing when no bout ends
/// inside the session.
[[nodiscard]] std::optional<Figure> recovery_figure(const SessionEffort& session, const Words& words);

/// Time in each intensity category, and below, in and above the target; nothing when there are none.
[[nodiscard]] std::optional<Figure> intensity_figure(const Effort& effort, const Words& words);
[[nodiscard]] std::optional<Figure> target_figure(const Effort& effort, const Words& words);

/// The whole first signal in columns from its lowest to its highest sample, what could not be read, hatched, and the poorest quality in each column.
[[nodiscard]] Figure overview_figure(const Analysis& analysis, const Recording& recording, const ChosenSignals& chosen,
                                     const Words& words);

/// How often each length of interval occurred among those that variability is measured from. Nothing when there are none.
[[nodiscard]] std::optional<Figure> histogram_figure(const Intervals& intervals, const Words& words);

/// Each interval of the corrected series against the one before it where the two touch (Poincare plot). Nothing when there are none.
[[nodiscard]] std::optional<Figure> neighbours_figure(const Intervals& intervals, const Words& words);

/// How the variance of the corrected series spreads over frequency, with the bands whose power was measured. Nothing when there are none.
[[nodiscard]] std::optional<Figure> spectrum_figure(const Variability& variability, const Words& words);

/// A few seconds of signal with every candidate, its verdict, and the intervals between beats.
struct StripPage {
  Span span;
  std::vector<std::string> reasons;  ///< why it was chosen, in words; empty when it was not
  Figure figure;
};

/// The recording cut into pages of ten seconds, those worth a look chosen. Up to half an hour every page is there, beyond that only the
/// chosen ones and others spread evenly between them.
[[nodiscard]] std::vector<StripPage> strip_pages(const Analysis& analysis, const Recording& recording,
                                                 const ChosenSignals& chosen, const Words& words);

/// What the marks of a strip stand for.
[[nodiscard]] std::vector<LegendEntry> strip_legend(BeatSource source, const Words& words);

}  // namespace pulsewright
