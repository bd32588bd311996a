#include "pulsewright/phases.hpp"

#include <algorithm>
#include <cmath>

#include "change_points.hpp"
#include "course_regression.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright {

namespace {

/// Shares of the way from rest to the highest demand of the session: from here up a piece is work, below there it is rest (ours).
constexpr double work_share = 0.70;
constexpr double rest_share = 0.20;
/// Whatever the session's highest, this share of reserve is work: where vigorous begins (Garber et al. 2011, MSSE 43:1334).
constexpr double work_reserve = 0.60;
/// A session whose demand stays within this of rest has no work in it (ours).
constexpr double least_rise_bpm = 20.0;
/// Bouts that head as close together as this share of the way from rest to the highest are one.
constexpr double same_bout_share = 0.10;
/// Stands for rest where no resting rate is known and the lowest level is higher: the middle of what is average (common practice, 72 to 84), rounded up.
constexpr double usual_rest_bpm = 80.0;

/// A stretch of cells [first, last) with where its rate heads.
struct Stretch {
  std::size_t first = 0, last = 0;
  std::optional<double> settles;
  std::optional<PhaseKind> kind;
  std::string name;
  std::optional<int> exertion;
  bool marked = false;
};

/// Where the rate of some points was heading: the level of an exponential that faded by at least 63 % in view, no further from its end than that is from
/// its start.
std::optional<double> settles_in(std::span<const MeasuredPoint> points) {
  constexpr std::size_t fewest_points = 2;
  if (points.size() < fewest_points) return std::nullopt;
  const double length = points.back().time - points.front().time;
  double level = 0, end = 0, start = 0;
  if (const auto fit = exponential_through(points, points.front().time, false, 1.0); fit && fit->tau <= length) {
    level = fit->level + fit->size;
    end = fit->at(points.back().time);
    start = fit->level;
  } else {  // too slow or too short to tell its tau: the best of a few
    CourseSums sums(points.front().time, points.front().bpm);
    for (const MeasuredPoint& point : points) sums.add(point.time, point.bpm);
    const CourseFit coarse = sums.best_level(length);
    level = coarse.level;
    end = coarse.level + coarse.size * elementary::exp(-length / coarse.tau);
    start = coarse.level + coarse.size;
  }
  const double change = std::abs(end - start);
  return std::clamp(level, end - change, end + change);
}

std::vector<Stretch> found_stretches(std::span<const EffortCell> cells, std::span<const MeasuredPoint> course,
                                     const ChangeOptions& options) {
  std::vector<Stretch> stretches;
  const std::vector<CoursePiece> pieces = find_changes(course, options);
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    Stretch stretch;
    stretch.first = k == 0 ? 0 : course[pieces[k].first].cell;
    stretch.last = k + 1 == pieces.size() ? cells.size() : course[pieces[k + 1].first].cell;
    stretch.settles = settles_in(course.subspan(pieces[k].first, pieces[k].last - pieces[k].first));
    stretches.push_back(stretch);
  }
  if (stretches.empty() && !cells.empty()) {
    stretches.emplace_back();
    stretches.back().last = cells.size();
  }
  return stretches;
}

std::vector<Stretch> marked_stretches(std::span<const EffortCell> cells, std::span<const MeasuredPoint> course,
                                      std::span<const PhaseMark> marks) {
  std::vector<Stretch> stretches;
  const auto cell_at = [&](Seconds time) {
    std::size_t at = 0;  // the cell whose start is nearest
    while (at < cells.size() &&
           static_cast<double>(cells[at].start_us) + 0.5 * static_cast<double>(cells[at].length_us) <
               time.value() * 1e6)
      ++at;
    return at;
  };
  const auto add = [&](std::size_t first, std::size_t last, const PhaseMark* mark) {
    if (first >= last) return;
    Stretch stretch;
    stretch.first = first;
    stretch.last = last;
    stretch.marked = true;
    if (mark) {
      stretch.exertion = mark->exertion;
      stretch.kind = mark->kind;
      stretch.name = mark->name;
    }
    const auto inside = [&](std::size_t cell) {
      return std::lower_bound(course.begin(), course.end(), cell,
                              [](const MeasuredPoint& p, std::size_t c) { return p.cell < c; });
    };
    stretch.settles = settles_in({inside(first), inside(last)});
    stretches.push_back(stretch);
  };
  std::size_t at = 0;
  const PhaseMark* open = nullptr;
  for (const PhaseMark& mark : marks) {
    const std::size_t next = cell_at(mark.time);
    add(at, next, open);
    at = std::max(at, next);
    open = &mark;
  }
  add(at, cells.size(), open);
  return stretches;
}

/// The range between rest and the highest demand.
struct DemandRange {
  double rest = 0, top = 0;
  std::optional<double> reserve;  ///< maximum - resting, where both are known

  [[nodiscard]] double share(double settles) const { return top > rest ? (settles - rest) / (top - rest) : 0.0; }
  [[nodiscard]] bool is_work(double settles) const {
    if (top - rest < least_rise_bpm) return false;
    return share(settles) >= work_share || (reserve && settles - rest >= work_reserve * *reserve);
  }
};

DemandRange range_of(const std::vector<Stretch>& stretches, std::optional<BeatsPerMinute> resting,
                     std::optional<BeatsPerMinute> maximum) {
  DemandRange range;
  bool any = false;
  double lowest = 0;
  for (const Stretch& stretch : stretches) {
    if (!stretch.settles) continue;
    lowest = any ? std::min(lowest, *stretch.settles) : *stretch.settles;
    range.top = any ? std::max(range.top, *stretch.settles) : *stretch.settles;
    any = true;
  }
  range.rest = resting ? resting->value() : std::min(lowest, usual_rest_bpm);
  if (resting && maximum) range.reserve = (*maximum - *resting).value();
  return range;
}

void name_kinds(std::vector<Stretch>& stretches, const DemandRange& range) {
  const auto is_work = [&](const Stretch& s) {
    return s.kind ? *s.kind == PhaseKind::work : s.settles && range.is_work(*s.settles);
  };
  const auto first = std::find_if(stretches.begin(), stretches.end(), is_work);
  const auto last = std::find_if(stretches.rbegin(), stretches.rend(), is_work);
  for (auto s = stretches.begin(); s != stretches.end(); ++s) {
    if (s->kind) continue;
    const bool still = !s->settles || range.top - range.rest < least_rise_bpm || range.share(*s->settles) < rest_share;
    if (is_work(*s))
      s->kind = PhaseKind::work;
    else if (first == stretches.end())
      s->kind = PhaseKind::rest;
    else if (s < first)
      s->kind = still ? PhaseKind::rest : PhaseKind::warm_up;
    else if (last.base() <= s)
      s->kind = still ? PhaseKind::rest : PhaseKind::cool_down;
    else
      s->kind = PhaseKind::pause;
  }
}

/// Neighbours of one kind are one phase; work bouts only when they head to about the same rate, and nothing that carries a name.
std::vector<Stretch> joined(const std::vector<Stretch>& stretches, const DemandRange& range) {
  std::vector<Stretch> result;
  for (const Stretch& stretch : stretches) {
    bool same =
        !result.empty() && result.back().kind == stretch.kind && result.back().name.empty() && stretch.name.empty();
    if (same && stretch.kind == PhaseKind::work && result.back().settles && stretch.settles)
      same = std::abs(*stretch.settles - *result.back().settles) < same_bout_share * (range.top - range.rest);
    if (!same) {
      result.push_back(stretch);
      continue;
    }
    result.back().last = stretch.last;
    if (stretch.settles) result.back().settles = stretch.settles;
  }
  return result;
}

Phase phase_of(const Stretch& stretch, std::span<const EffortCell> cells) {
  Phase phase;
  phase.kind = stretch.kind.value_or(PhaseKind::rest);
  phase.name = stretch.name;
  phase.marked = stretch.marked;
  phase.exertion = stretch.exertion;
  phase.start_us = cells[stretch.first].start_us;
  double beats = 0;  // rate x microseconds
  std::int64_t measured_us = 0;
  for (const EffortCell& cell : cells.subspan(stretch.first, stretch.last - stretch.first)) {
    phase.length_us += cell.length_us;
    if (!cell.rate) {
      phase.unmeasured_us += cell.length_us;
      continue;
    }
    measured_us += cell.length_us;
    beats += cell.rate->value() * static_cast<double>(cell.length_us);
    if (!phase.peak_rate || *phase.peak_rate < *cell.rate) phase.peak_rate = cell.rate;
  }
  if (measured_us > 0) phase.mean_rate = BeatsPerMinute{beats / static_cast<double>(measured_us)};
  if (stretch.settles && measured_us > 0) phase.settling_rate = BeatsPerMinute{*stretch.settles};
  return phase;
}

}  // namespace

const char* to_string(PhaseKind kind) {
  switch (kind) {
    case PhaseKind::rest: return "rest";
    case PhaseKind::warm_up: return "warm_up";
    case PhaseKind::work: return "work";
    case PhaseKind::pause: return "pause";
    case PhaseKind::cool_down: break;
  }
  return "cool_down";
}

std::optional<PhaseKind> phase_kind_of(const std::string& word) {
  using enum PhaseKind;
  for (const PhaseKind kind : {rest, warm_up, work, pause, cool_down})
    if (word == to_string(kind)) return kind;
  return std::nullopt;
}

Span Phase::span() const {
  return {Seconds{static_cast<double>(start_us) / 1e6}, Seconds{static_cast<double>(start_us + length_us) / 1e6}};
}

std::vector<Phase> find_phases(std::span<const EffortCell> cells, Seconds window, std::optional<BeatsPerMinute> resting,
                               std::optional<BeatsPerMinute> maximum, std::span<const PhaseMark> marks,
                               const PhaseOptions& options) {
  const std::vector<MeasuredPoint> course = measured_course(cells);
  std::vector<Stretch> stretches =
      marks.empty() ? found_stretches(cells, course, {options.shortest.value(), cells_per_window(cells, window)})
                    : marked_stretches(cells, course, marks);
  const DemandRange range = range_of(stretches, resting, maximum);
  name_kinds(stretches, range);
  if (marks.empty()) stretches = joined(stretches, range);
  std::vector<Phase> phases;
  phases.reserve(stretches.size());
  for (const Stretch& stretch : stretches) phases.push_back(phase_of(stretch, cells));
  return phases;
}

}  // namespace pulsewright
