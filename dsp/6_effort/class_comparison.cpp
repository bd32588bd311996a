#include <algorithm>
#include <array>
#include <cmath>

#include "pulsewright/class_session.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

struct MeasureWord {
  ClassMeasure measure;
  const char* word;
};
constexpr std::array measure_words{
    MeasureWord{ClassMeasure::code, "code"},         MeasureWord{ClassMeasure::effort, "effort"},
    MeasureWord{ClassMeasure::target, "target"},     MeasureWord{ClassMeasure::moderate, "moderate"},
    MeasureWord{ClassMeasure::load, "load"},         MeasureWord{ClassMeasure::peak, "peak"},
    MeasureWord{ClassMeasure::recovery, "recovery"}, MeasureWord{ClassMeasure::performance, "performance"}};

/// One beat/min is the last digit that people read of a rate.
constexpr double rate_step_bpm = 1.0;
/// A weighted minute is not shown finer than to a tenth.
constexpr double load_step = 0.1;
constexpr double least_reserve_bpm = 20.0;

/// What one step of the measure's resolution is worth.
double resolution(const ClassMember& member, ClassMeasure measure) {
  const Effort& effort = member.session->effort;
  switch (measure) {
    case ClassMeasure::effort:
    case ClassMeasure::peak: {
      const double reserve =
          effort.maximum && effort.resting ? (effort.maximum->rate - effort.resting->rate).value() : 100.0;
      return 100.0 * rate_step_bpm / std::max(reserve, least_reserve_bpm);
    }
    case ClassMeasure::target:
    case ClassMeasure::moderate: return member.rates.options.window.value();
    case ClassMeasure::recovery: return rate_step_bpm;
    case ClassMeasure::load: return load_step;
    case ClassMeasure::code:
    case ClassMeasure::performance: break;
  }
  return 0.0;
}

/// Per cent of reserve of a rate over the likely maxima.
Ranged reserve_range(const Effort& effort, BeatsPerMinute rate) {
  const BeatsPerMinute base = effort.resting->rate;
  const auto percent = [&](BeatsPerMinute maximum) { return 100.0 * ((rate - base) / (maximum - base)); };
  const std::vector<BeatsPerMinute> maxima = likely_maxima(*effort.maximum, base + BeatsPerMinute{least_reserve_bpm});
  return {percent(effort.maximum->rate), percent(maxima.back()), percent(maxima.front())};
}

bool ahead(const ClassMember& a, const ClassMember& b, ClassMeasure measure) {
  const auto va = value_of(a, measure), vb = value_of(b, measure);
  if (!va || !vb) return false;
  return clearly_more(*va, *vb, std::max(resolution(a, measure), resolution(b, measure)));
}

void sort_members(ClassComparison& comparison, const PerformanceMeasure& performance) {
  const ClassMeasure measure = comparison.options.sort_by;
  bool most_first = !comparison.options.least_first;
  if (measure == ClassMeasure::performance && !performance.more_is_better) most_first = !most_first;
  std::stable_sort(
      comparison.members.begin(), comparison.members.end(), [&](const ClassMember& a, const ClassMember& b) {
        if (measure == ClassMeasure::code)
          return comparison.options.least_first ? b.entry.code < a.entry.code : a.entry.code < b.entry.code;
        const auto va = value_of(a, measure), vb = value_of(b, measure);
        if (!va || !vb) return va.has_value() && !vb.has_value();
        return most_first ? va->value > vb->value : va->value < vb->value;
      });
}

void give_standings(ClassComparison& comparison, const PerformanceMeasure& performance) {
  const ClassMeasure measure = comparison.options.sort_by;
  if (measure == ClassMeasure::code) return;
  const bool more = measure != ClassMeasure::performance || performance.more_is_better;
  std::vector<ClassMember>& members = comparison.members;
  int placed = 0;
  for (const ClassMember& member : members) placed += value_of(member, measure).has_value();
  for (ClassMember& member : members) {
    if (!value_of(member, measure)) continue;
    Standing standing{1, placed};
    for (const ClassMember& other : members) {
      if (more ? ahead(other, member, measure) : ahead(member, other, measure)) ++standing.best;
      if (more ? ahead(member, other, measure) : ahead(other, member, measure)) --standing.worst;
    }
    member.standing = standing;
  }
}

/// Sets effort beside performance, each against the middle of the class.
void compare_with_performance(ClassComparison& comparison, const PerformanceMeasure& performance) {
  std::vector<double> efforts, performances;
  for (const ClassMember& member : comparison.members) {
    if (const auto effort = value_of(member, ClassMeasure::effort)) efforts.push_back(effort->value);
    if (member.session && member.entry.performance) performances.push_back(*member.entry.performance);
  }
  if (efforts.empty()) return;
  comparison.middle_effort_percent = median(std::span(efforts));
  constexpr std::size_t fewest = 3;  // of fewer people there is no middle
  if (performances.size() < fewest) return;
  const double middle = median(std::span(performances));
  comparison.middle_performance = middle;
  const Ranged middle_effort{*comparison.middle_effort_percent, *comparison.middle_effort_percent,
                             *comparison.middle_effort_percent};
  for (ClassMember& member : comparison.members) {
    const auto effort = value_of(member, ClassMeasure::effort);
    if (!effort || !member.entry.performance || *member.entry.performance == middle) continue;
    const bool better = performance.more_is_better == (*member.entry.performance > middle);
    const double step = resolution(member, ClassMeasure::effort);
    if (better && clearly_more(middle_effort, *effort, step))
      member.effort_for_place = EffortForPlace::ahead_at_ease;
    else if (!better && clearly_more(*effort, middle_effort, step))
      member.effort_for_place = EffortForPlace::behind_at_limit;
  }
}

}  // namespace

const char* to_string(ClassMeasure measure) {
  for (const MeasureWord& entry : measure_words)
    if (entry.measure == measure) return entry.word;
  return "code";
}

std::optional<ClassMeasure> class_measure_of(const std::string& word) {
  for (const MeasureWord& entry : measure_words)
    if (word == entry.word) return entry.measure;
  return std::nullopt;
}

const char* to_string(EffortForPlace what) {
  switch (what) {
    case EffortForPlace::unclear: return "unclear";
    case EffortForPlace::ahead_at_ease: return "ahead_at_ease";
    case EffortForPlace::behind_at_limit: break;
  }
  return "behind_at_limit";
}

bool clearly_more(const Ranged& more, const Ranged& less, double least_half_width) {
  const double down = std::max(more.value - more.low, least_half_width);
  const double up = std::max(less.high - less.value, least_half_width);
  return more.value - less.value > std::sqrt(down * down + up * up);
}

std::optional<Ranged> value_of(const ClassMember& member, ClassMeasure measure) {
  if (!member.session || !member.session->effort.mean_rate) return std::nullopt;
  const SessionEffort& session = *member.session;
  const Effort& effort = session.effort;
  switch (measure) {
    case ClassMeasure::code: return std::nullopt;
    case ClassMeasure::effort: return session.mean_reserve_percent;
    case ClassMeasure::target: return session.in_target_s;
    case ClassMeasure::moderate: return session.moderate_or_harder_s;
    case ClassMeasure::load: return session.weighted_minutes;
    case ClassMeasure::peak:
      if (!session.peak || !effort.maximum || !effort.resting) return std::nullopt;
      return reserve_range(effort, session.peak->rate);
    case ClassMeasure::recovery:
      if (!session.recovery || !session.recovery->first_minute_fall) return std::nullopt;
      return Ranged{session.recovery->first_minute_fall->value(), session.recovery->first_minute_fall->value(),
                    session.recovery->first_minute_fall->value()};
    case ClassMeasure::performance: break;
  }
  if (!member.entry.performance) return std::nullopt;
  return Ranged{*member.entry.performance, *member.entry.performance, *member.entry.performance};
}

ClassComparison compare_class(std::vector<ClassMember> members, const PerformanceMeasure& performance,
                              const ClassOptions& options) {
  ClassComparison comparison;
  comparison.members = std::move(members);
  comparison.options = options;
  comparison.performance = performance;
  sort_members(comparison, performance);
  give_standings(comparison, performance);
  compare_with_performance(comparison, performance);
  return comparison;
}

}  // namespace pulsewright
