/// A guided lesson with sensors on: finding the pulse, a minute of rest, exercise by a plan,
/// recovery, and counts by hand beside the sensor's.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/live.hpp"
#include "pulsewright/plan.hpp"
#include "pulsewright/pulse_count.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

enum class LessonStepKind { find_pulse, rest, warm_up, work, pause, cool_down, recovery, over };

struct LessonOptions {
  PlanDurations plan;
  Seconds find_at_least{10.0};  ///< everybody is measured for so long before rest begins ...
  Seconds find_at_most{90.0};   ///< ... or so much time has passed
  Seconds rest{60.0};
  Seconds recovery{120.0};
  Seconds count{15.0};  ///< of a count by hand: 10, 15, 20, 30 or 60 s
};

struct LessonStep {
  LessonStepKind kind = LessonStepKind::over;
  Seconds length{0};
  /// Of several bouts or pauses, from 1; 0 where there is one only.
  std::size_t number = 0, of = 0;
  std::optional<Seconds> count_after;  ///< a count by hand begins so long after the step does
};

/// `find the pulse`, `rest`, `work 2 of 3`, ...
[[nodiscard]] std::string step_name(const LessonStep& step);
/// What to do in it, as it is said to the class.
[[nodiscard]] std::string step_prompt(const LessonStep& step);
/// The word of `PhaseMark` for it; recovery and finding the pulse are rest.
[[nodiscard]] PhaseKind phase_of(LessonStepKind kind);

/// What changed as time went on.
struct LessonChange {
  enum class Kind { step, count_begins, count_ends };
  Kind kind = Kind::step;
  LessonStep step;  ///< the one that begins or is under way
};

/// The clock of a lesson. Every step but the first has the length that the plan gives it.
class LessonCourse {
 public:
  /// Throws Error{usage} when a length is not positive, or the count is none of 10, 15, 20, 30, 60
  /// s or longer than rest or recovery allow.
  explicit LessonCourse(const LessonOptions& options);
  /// Moves on to `now`, counted from the start; `everybody_measured` says whether all who take part
  /// have a rate. What changed, in order. Time never goes back.
  [[nodiscard]] std::vector<LessonChange> advance(Seconds now, bool everybody_measured);
  [[nodiscard]] const LessonStep& step() const;
  /// Until the step ends; nothing for finding the pulse and after the end.
  [[nodiscard]] std::optional<Seconds> left() const;
  /// Until a count ends that is under way.
  [[nodiscard]] std::optional<Seconds> count_left() const;
  [[nodiscard]] const std::vector<LessonStep>& steps() const { return steps_; }
  [[nodiscard]] bool over() const { return step().kind == LessonStepKind::over; }

 private:
  void enter_next(Seconds at, std::vector<LessonChange>& changes);

  LessonOptions options_;
  std::vector<LessonStep> steps_;
  std::size_t at_ = 0;
  Seconds now_{0}, began_{0};
  std::optional<Seconds> measured_since_;
  bool counting_ = false, counted_ = false, announced_ = false;
};

/// A count by hand and the sensor's rate over the same seconds.
struct LessonCount {
  ScoredCount scored;
  double beat_bpm = 0;  ///< what one beat of it is worth
};

/// One person in a lesson. Times are those of the person's own sensor.
class LessonPerson {
 public:
  /// Keeps the beats of the last minutes.
  void take(const LiveEvent& event);
  /// The rate over a stretch whose beats are decided, with its interval; no rate where it could not
  /// be measured. At most two minutes.
  [[nodiscard]] RateWindow rate_over(Span stretch, ChannelKind kind) const;
  /// A count by hand over a stretch of the last minutes.
  [[nodiscard]] LessonCount score(int counted, Span stretch, const std::string& code) const;

 private:
  std::deque<Beat> beats_;
};

}  // namespace pulsewright
