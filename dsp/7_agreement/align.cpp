#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "beat_offsets.hpp"
#include "offset_line.hpp"
#include "pulsewright/rate_study.hpp"
#include "rate_course.hpp"

namespace pulsewright {
namespace {

/// What is slower than this is left out of the correlation: two people on the same treadmill share it.
constexpr Seconds slow_part{60.0};
/// One independent value of a course every so often: about one breath (ours).
constexpr double independent_s = 5.0;
constexpr double standard_errors = 4.0;
/// Another offset, at least so far away, must do worse by at least so many standard errors of Fisher's z. Breathing alone makes side peaks every 2 to 5 s.
constexpr double other_peak_s = 2.0;
constexpr double distinct_errors = 2.0;
/// Where neither side has beats, a drift smaller than so many standard errors is not believed.
constexpr double believable_errors = 3.0;
/// Length of the stretches that drift is found from.
constexpr Seconds stretch_length{300.0};
/// Fastest drift looked for: a crystal is off by some tens, a cheap oscillator by thousands of parts in a million.
constexpr double fastest_drift = 3e-3;

struct Peak {
  double lag_s = 0;
  double correlation = -1;
  double second = -1;  ///< best correlation elsewhere
  bool at_end = false;
};

std::int64_t steps_in(double seconds) { return std::lround(seconds / course_step_s); }

/// Where the parabola through the correlations around the best one, by least squares, has its top, in steps from there. Three points alone would pull
/// the top towards the grid, because beats enter and leave windows at once.
double top_of_parabola(const std::vector<double>& correlations, std::size_t at) {
  const std::size_t reach = std::min({static_cast<std::size_t>(steps_in(0.5)), at, correlations.size() - 1 - at});
  double s2 = 0, s4 = 0, y0 = 0, y1 = 0, y2 = 0, n = 0;
  for (std::size_t i = at - reach; i <= at + reach; ++i) {
    const double x = static_cast<double>(i) - static_cast<double>(at), y = correlations[i];
    n += 1;
    s2 += x * x;
    s4 += x * x * x * x;
    y0 += y;
    y1 += x * y;
    y2 += x * x * y;
  }
  const double bend = (n * y2 - s2 * y0) / (n * s4 - s2 * s2), slope = y1 / s2;
  const double most = static_cast<double>(reach);
  return bend < 0 ? std::clamp(-0.5 * slope / bend, -most, most) : 0.0;
}

/// The best lag around `centre` steps, over reference positions [from, to).
Peak best_lag(const RateCourse& reference, const RateCourse& test, std::int64_t centre, std::int64_t reach,
              std::int64_t from, std::int64_t to, double least_common_s) {
  std::vector<double> correlations;
  for (std::int64_t lag = centre - reach; lag <= centre + reach; ++lag) {
    const CourseMatch match = match_at(reference, test, lag, from, to);
    correlations.push_back(match.common_s >= least_common_s ? match.correlation : -1.0);
  }
  const auto top = std::max_element(correlations.begin(), correlations.end());
  const auto at = static_cast<std::size_t>(top - correlations.begin());
  Peak peak;
  peak.correlation = *top;
  peak.at_end = at == 0 || at + 1 == correlations.size();
  const double shift = peak.at_end ? 0.0 : top_of_parabola(correlations, at);
  peak.lag_s = (static_cast<double>(centre - reach) + static_cast<double>(at) + shift) * course_step_s;
  const auto apart = static_cast<std::size_t>(steps_in(other_peak_s));
  for (std::size_t i = 0; i < correlations.size(); ++i) {
    const bool is_peak = (i == 0 || correlations[i] >= correlations[i - 1]) &&
                         (i + 1 == correlations.size() || correlations[i] >= correlations[i + 1]);
    if (is_peak && (i + apart < at || at + apart < i)) peak.second = std::max(peak.second, correlations[i]);
  }
  return peak;
}

double least_correlation_of(const AlignmentOptions& options, double common_s) {
  const double independent = common_s / independent_s;
  if (independent <= 4) return 1;
  return std::max(options.least_correlation, std::tanh(standard_errors / std::sqrt(independent - 3)));
}

bool is_distinct(const Peak& peak, double common_s) {
  static constexpr double most = 0.99;
  const auto z = [](double r) { return std::atanh(std::clamp(r, -most, most)); };
  return z(peak.correlation) - z(peak.second) > distinct_errors / std::sqrt(common_s / independent_s - 3);
}

void refuse(Alignment& alignment, std::string why) {
  alignment.refused = true;
  alignment.note = std::move(why);
}

/// How long the windows of the side without beats are.
std::optional<Seconds> smoothing_of(const RateSide& reference, const RateSide& test) {
  const auto window = [](const RateSide& side) -> std::optional<Seconds> {
    if (side.beats || side.rates.windows.empty()) return std::nullopt;
    return side.rates.windows.front().window.length();
  };
  const auto a = window(reference), b = window(test);
  if (a && b) return std::nullopt;
  return a ? a : b;
}

}  // namespace

Seconds Alignment::to_reference(Seconds test) const { return (test - offset) / (1 + 1e-6 * drift_ppm); }

Alignment align(const RateSide& reference, const RateSide& test, const AlignmentOptions& options) {
  Alignment alignment;
  if (options.steps == AlignmentSteps::none) {
    alignment.note = "not asked for";
    return alignment;
  }
  const std::optional<Seconds> smooth = smoothing_of(reference, test);
  // Windows are compared at their own times, where the other side is known at every time.
  const bool by_reference = !reference.beats && test.beats;
  const RateCourse course_a =
      course_of(reference, smooth, by_reference ? BetweenWindows::left_out : BetweenWindows::straight_lines);
  const RateCourse course_b =
      course_of(test, smooth, by_reference ? BetweenWindows::straight_lines : BetweenWindows::left_out);
  const RateCourse a = without_slow_part(course_a, slow_part);
  RateCourse b = without_slow_part(course_b, slow_part);
  const CourseMatch here = match_at(a, b, 0, a.first, a.end());
  alignment.common = Seconds{here.common_s};
  if (here.varies) alignment.correlation_before = here.correlation;

  const double least_s = options.least_common.value();
  const std::int64_t reach = steps_in(options.farthest.value());
  double common_s = 0;
  bool varies = false;
  for (std::int64_t lag = -reach; lag <= reach; lag += std::max<std::int64_t>(reach / 8, 1)) {
    const CourseMatch match = match_at(a, b, lag, a.first, a.end());
    common_s = std::max(common_s, match.common_s);
    varies = varies || match.varies;
  }
  if (common_s < least_s) {
    refuse(alignment, fmt::format("the two have {:.0f} s in common; {:.0f} s are needed", common_s, least_s));
    return alignment;
  }
  if (!varies) {
    refuse(alignment, "one of the two does not vary, so there is nothing to align by");
    return alignment;
  }
  // An offset at which little remains in common would be found by chance.
  const auto best = [&] { return best_lag(a, b, 0, reach, a.first, a.end(), std::max(least_s, common_s / 2)); };
  Peak peak = best();
  if (peak.correlation > 0) {
    b = without_slow_part(without_outliers(course_a, course_b, steps_in(peak.lag_s)), slow_part);
    peak = best();
  }
  alignment.correlation = peak.correlation;
  const double needed = least_correlation_of(options, common_s);
  if (peak.correlation < needed) {
    refuse(alignment, fmt::format("the courses correlate by {:.2f} at the best offset; {:.2f} are needed over {:.0f} s",
                                  peak.correlation, needed, common_s));
    return alignment;
  }
  if (peak.at_end) {
    refuse(alignment, fmt::format("the correlation still rises at the farthest offset looked at, {:.0f} s",
                                  options.farthest.value()));
    return alignment;
  }
  if (!is_distinct(peak, common_s)) {
    refuse(alignment, fmt::format("another offset does nearly as well (correlation {:.2f} and {:.2f})",
                                  peak.correlation, peak.second));
    return alignment;
  }
  alignment.applied = AlignmentSteps::offset;
  alignment.offset = Seconds{peak.lag_s};

  OffsetLine line{peak.lag_s, 0, std::nullopt, std::nullopt};
  const bool long_enough = common_s >= options.least_for_drift.value();
  if (long_enough) {
    const std::int64_t length = steps_in(stretch_length.value());
    const std::int64_t wander = steps_in(1.0 + fastest_drift * common_s);
    for (std::int64_t from = a.first; from + length <= a.end(); from += length) {
      const Peak in = best_lag(a, b, steps_in(peak.lag_s), wander, from, from + length, least_s);
      if (in.at_end || in.correlation < least_correlation_of(options, stretch_length.value())) continue;
      const double middle = (static_cast<double>(from) + 0.5 * static_cast<double>(length)) * course_step_s;
      alignment.stretches.push_back({Seconds{middle}, Seconds{in.lag_s}, in.correlation});
    }
    if (const auto found = line_through(alignment.stretches)) line = *found;
  }
  if (reference.beats && test.beats) {
    const std::vector<StretchOffset> by_beats = offsets_of_beats(*reference.beats, *test.beats, line);
    if (long_enough && by_beats.size() >= fewest_for_a_line) {
      alignment.stretches = by_beats;
      line = *line_through(by_beats);
    } else if (!by_beats.empty()) {
      std::vector<double> offsets;
      offsets.reserve(by_beats.size());
      for (const StretchOffset& s : by_beats) offsets.push_back(s.offset.value());
      line.offset = median_of(std::move(offsets));
    }
  }
  const bool exact = reference.beats && test.beats;
  const bool believable = line.error_ppm && (exact || std::abs(1e6 * line.slope) > believable_errors * *line.error_ppm);
  const bool with_drift = options.steps == AlignmentSteps::offset_and_drift && believable;
  if (with_drift) {
    alignment.applied = AlignmentSteps::offset_and_drift;
    alignment.offset = Seconds{line.offset};
    alignment.drift_ppm = 1e6 * line.slope;
    alignment.drift_error_ppm = line.error_ppm;
    if (line.offset_error) alignment.offset_error = Seconds{*line.offset_error};
  } else {
    // Without drift the one offset that serves best is that at the middle.
    const double middle = 0.5 * static_cast<double>(a.first + a.end()) * course_step_s;
    alignment.offset = Seconds{line.offset + line.slope * middle};
    if (options.steps == AlignmentSteps::offset_and_drift)
      alignment.note =
          line.error_ppm
              ? fmt::format("a drift of {:.0f} ppm is less than three standard errors ({:.0f}) and is taken for none",
                            1e6 * line.slope, *line.error_ppm)
          : long_enough
              ? "too few stretches agree to tell a drift"
              : fmt::format("drift is not looked for in less than {:.0f} min", options.least_for_drift.value() / 60);
  }
  return alignment;
}

const char* to_string(AlignmentSteps steps) {
  switch (steps) {
    case AlignmentSteps::none: return "none";
    case AlignmentSteps::offset: return "offset";
    case AlignmentSteps::offset_and_drift: return "offset_and_drift";
  }
  return "none";
}

}  // namespace pulsewright
