#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "course_regression.hpp"
#include "pulsewright/kinetics.hpp"

namespace pulsewright {

namespace {

constexpr double line_length_s = 20.0;
constexpr double minute_s = 60.0;
/// Of a line's 20 s at least this share must be measured.
constexpr double least_measured = 0.6;
/// The bout's line and the exponential after it meet no further than this from where the phases part.
constexpr double reach_s = 15.0;
/// The exponential after a stop is fitted over so much of what follows.
constexpr double fall_length_s = 90.0;

std::optional<CourseLine> line_between(std::span<const MeasuredPoint> course, double from, double to, double cell_s) {
  const auto points = points_between(course, from, to);
  if (static_cast<double>(points.size()) * cell_s < least_measured * (to - from)) return std::nullopt;
  return line_through(points, 1.0);
}

/// A heart's rate does not jump: where the course of the bout and the course after it meet is the moment of stopping, to a fraction of a cell.
double meeting_point(std::span<const MeasuredPoint> course, double cut, double end, double half_window,
                     double correlated, double cell_s) {
  const double apart = half_window + 2.0 * cell_s;  // the cut itself is known to a few seconds
  const auto before = line_between(course, cut - apart - line_length_s, cut - apart, cell_s);
  const auto after = exponential_through(
      points_between(course, cut + apart, std::min(end - half_window, cut + fall_length_s)), cut, false, correlated);
  if (!before || !after) return cut;
  const auto gap = [&](double t) { return after->at(t) - before->at(t); };
  double low = cut - reach_s, high = cut + reach_s;
  if (!(gap(low) > 0.0 && gap(high) < 0.0)) return cut;
  constexpr int halvings = 40;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (gap(middle) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

std::optional<Recovery> find_recovery(std::span<const EffortCell> cells, Seconds window,
                                      std::span<const Phase> phases) {
  const auto last =
      std::find_if(phases.rbegin(), phases.rend(), [](const Phase& p) { return p.kind == PhaseKind::work; });
  if (last == phases.rend() || last == phases.rbegin()) return std::nullopt;
  const Phase& next = *std::prev(last);
  const std::vector<MeasuredPoint> course = measured_course(cells);
  const double half_window = 0.5 * window.value();
  const double cell_s = static_cast<double>(cells.front().length_us) / 1e6;
  const bool marked = last->marked;

  Recovery recovery;
  recovery.stood_still = next.kind == PhaseKind::rest;
  double stop = last->span().end.value();
  if (!marked)
    stop = meeting_point(course, stop, phases.back().span().end.value(), half_window, cells_per_window(cells, window),
                         cell_s);
  recovery.stop = Seconds{stop};
  const double session_end = phases.back().span().end.value();
  const auto missing = [&](const char* key, const std::string& why) { recovery.reasons.push_back({key, why}); };
  const auto rate_at = [&](double from, double to, double at, const char* key) -> std::optional<BeatsPerMinute> {
    if (to > session_end + cell_s) {
      missing(key, fmt::format("the session ends {:.0f} s after the stop", session_end - stop));
      return std::nullopt;
    }
    const auto line = line_between(course, from, to, cell_s);
    if (!line) {
      missing(key, "too little is measured about that moment");
      return std::nullopt;
    }
    return BeatsPerMinute{line->at(at)};
  };
  recovery.at_stop = rate_at(stop - half_window - line_length_s, stop - half_window, stop, "at_stop_bpm");
  const auto about = [&](double at, const char* key) {
    return rate_at(at - 0.5 * line_length_s, at + 0.5 * line_length_s, at, key);
  };
  recovery.after_one_minute = about(stop + minute_s, "after_one_minute_bpm");
  recovery.after_two_minutes = about(stop + 2.0 * minute_s, "after_two_minutes_bpm");
  if (recovery.at_stop && recovery.after_one_minute)
    recovery.first_minute_fall = *recovery.at_stop - *recovery.after_one_minute;
  if (recovery.after_one_minute && recovery.after_two_minutes)
    recovery.second_minute_fall = *recovery.after_one_minute - *recovery.after_two_minutes;
  if (!recovery.first_minute_fall) missing("first_minute_fall_bpm", "needs the rate at the stop and one minute later");
  if (!recovery.second_minute_fall)
    missing("second_minute_fall_bpm", "needs the rates one and two minutes after the stop");
  return recovery;
}

}  // namespace pulsewright
