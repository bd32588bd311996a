#include <algorithm>

#include "pulsewright/error.hpp"
#include "pulsewright/lesson.hpp"

namespace pulsewright {
namespace {

/// A count ends so long before its step does, that it can be said; and begins so long after one
/// that follows work, that fingers find the pulse.
constexpr Seconds before_end{5.0}, after_start{5.0};

bool may_count_over(Seconds length) {
  for (const double usual : {10.0, 15.0, 20.0, 30.0, 60.0})
    if (length == Seconds{usual}) return true;
  return false;
}

/// The steps of a lesson, in order.
std::vector<LessonStep> steps_of(const LessonOptions& options) {
  const std::size_t bouts = options.plan.bouts.size();
  std::vector<LessonStep> steps;
  steps.push_back({LessonStepKind::find_pulse, options.find_at_most, 0, 0, std::nullopt});
  steps.push_back({LessonStepKind::rest, options.rest, 0, 0, options.rest - before_end - options.count});
  steps.push_back({LessonStepKind::warm_up, options.plan.warm_up, 0, 0, std::nullopt});
  const auto after_work = [&](Seconds length) {
    return length >= after_start + options.count ? std::optional{after_start} : std::nullopt;
  };
  for (std::size_t b = 0; b < bouts; ++b) {
    steps.push_back({LessonStepKind::work, options.plan.bouts[b], b + 1, bouts, std::nullopt});
    if (b + 1 < bouts && options.plan.pause > Seconds{0})
      steps.push_back({LessonStepKind::pause, options.plan.pause, b + 1, bouts - 1, after_work(options.plan.pause)});
  }
  steps.push_back({LessonStepKind::cool_down, options.plan.cool_down, 0, 0, after_work(options.plan.cool_down)});
  steps.push_back({LessonStepKind::recovery, options.recovery, 0, 0, options.recovery - before_end - options.count});
  steps.push_back({LessonStepKind::over, Seconds{0}, 0, 0, std::nullopt});
  return steps;
}

}  // namespace

LessonCourse::LessonCourse(const LessonOptions& options) : options_(options), steps_(steps_of(options)) {
  if (!may_count_over(options.count)) throw Error{ErrorCode::usage, "a count by hand is over 10, 15, 20, 30 or 60 s"};
  for (const LessonStep& step : steps_) {
    if (step.kind != LessonStepKind::over && !(step.length > Seconds{0}))
      throw Error{ErrorCode::usage, "the step '" + step_name(step) + "' of a lesson has no length"};
    if (step.count_after && *step.count_after < Seconds{0})
      throw Error{ErrorCode::usage, "the step '" + step_name(step) + "' is too short for the count by hand in it"};
  }
}

const LessonStep& LessonCourse::step() const { return steps_[at_]; }

std::optional<Seconds> LessonCourse::left() const {
  if (step().kind == LessonStepKind::find_pulse || over()) return std::nullopt;
  return began_ + step().length - now_;
}

std::optional<Seconds> LessonCourse::count_left() const {
  if (!counting_) return std::nullopt;
  return began_ + *step().count_after + options_.count - now_;
}

void LessonCourse::enter_next(Seconds at, std::vector<LessonChange>& changes) {
  ++at_;
  began_ = at;
  counting_ = counted_ = false;
  changes.push_back({LessonChange::Kind::step, step()});
}

std::vector<LessonChange> LessonCourse::advance(Seconds now, bool everybody_measured) {
  std::vector<LessonChange> changes;
  now_ = std::max(now_, now);
  if (!announced_) {
    announced_ = true;
    changes.push_back({LessonChange::Kind::step, step()});
  }
  if (step().kind == LessonStepKind::find_pulse) {
    if (!everybody_measured)
      measured_since_.reset();
    else if (!measured_since_)
      measured_since_ = now_;
    const bool found = measured_since_ && now_ - *measured_since_ >= options_.find_at_least;
    if (!found && now_ < options_.find_at_most) return changes;
    enter_next(now_, changes);
  }
  while (!over()) {
    if (step().count_after && !counted_) {
      const Seconds begins = began_ + *step().count_after;
      if (!counting_ && now_ >= begins) {
        counting_ = true;
        changes.push_back({LessonChange::Kind::count_begins, step()});
      }
      if (counting_ && now_ >= begins + options_.count) {
        counting_ = false;
        counted_ = true;
        changes.push_back({LessonChange::Kind::count_ends, step()});
      }
    }
    const Seconds ends = began_ + step().length;
    if (now_ < ends) break;
    enter_next(ends, changes);
  }
  return changes;
}

}  // namespace pulsewright
