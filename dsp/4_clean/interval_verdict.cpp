#include <algorithm>

#include "pulsewright/clean.hpp"

namespace pulsewright {

const char* to_string(IntervalVerdict verdict) {
  switch (verdict) {
    case IntervalVerdict::normal: return "normal";
    case IntervalVerdict::missed_beat: return "missed_beat";
    case IntervalVerdict::extra_beat: return "extra_beat";
    case IntervalVerdict::early_beat: return "early_beat";
    case IntervalVerdict::compensatory_pause: return "compensatory_pause";
    case IntervalVerdict::misplaced: return "misplaced";
    case IntervalVerdict::gap: break;
  }
  return "gap";
}

std::optional<double> Intervals::flagged_percent() const {
  if (intervals.empty()) return std::nullopt;
  const auto flagged = std::count_if(intervals.begin(), intervals.end(),
                                     [](const Interval& i) { return i.verdict != IntervalVerdict::normal; });
  return 100.0 * static_cast<double>(flagged) / static_cast<double>(intervals.size());
}

const char* to_string(Correction correction) {
  switch (correction) {
    case Correction::repair: return "repair";
    case Correction::insert_and_delete: return "insert_and_delete";
    case Correction::interpolate: return "interpolate";
    case Correction::leave_out: return "leave_out";
  }
  return "";
}

}  // namespace pulsewright
