#include "flagged_runs.hpp"

#include <fmt/format.h>

namespace pulsewright {
namespace {

constexpr double row_px = 13;
constexpr double below_name_px = 4;

struct Run {
  double start = 0, end = 0;
  IntervalVerdict verdict = IntervalVerdict::normal;
  int count = 0;
};

std::vector<Run> runs_of(const std::vector<Interval>& intervals) {
  std::vector<Run> runs;
  for (const Interval& interval : intervals) {
    if (interval.verdict == IntervalVerdict::normal) continue;
    const double start = interval.start.value(), end = interval.end.value();
    if (!runs.empty() && runs.back().verdict == interval.verdict && runs.back().end == start) {
      runs.back().end = end;
      ++runs.back().count;
    } else {
      runs.push_back({start, end, interval.verdict, 1});
    }
  }
  return runs;
}

}  // namespace

void draw_flagged_runs(Plot& plot, const std::vector<Interval>& intervals, double top_px, double name_px,
                       const Words& words) {
  bool lower = false;
  double last_end = -1;
  for (const Run& run : runs_of(intervals)) {
    lower = run.start == last_end && !lower;
    last_end = run.end;
    const double foot = name_px + (lower ? row_px : 0);
    const std::string name = words(std::string("interval.short.") + to_string(run.verdict));
    plot.box(run.start, run.end, top_px, foot + below_name_px, "flagged");
    plot.label_of_box(run.count > 1 ? fmt::format("{} \u00D7{}", name, run.count) : name, run.start, run.end, foot,
                      "ms");
  }
}

}  // namespace pulsewright
