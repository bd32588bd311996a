#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "beat_offsets.hpp"
#include "clock_fit.hpp"
#include "course_lag.hpp"
#include "offset_line.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright {
namespace {

/// An offset or a gain smaller than so many standard errors may be chance.
constexpr double demanding_errors = 2.0;
/// Where not both sides have beats, a drift smaller than so many standard errors is not believed.
constexpr double believable_errors = 3.0;
/// Rates may say so much else before they contradict clocks: 1 s for clocks that are told in whole seconds, and some 0.8 s for a pulse that comes late.
constexpr double clocks_within_s = 2.0;

/// The side as the courses are made of it: beats where most of its rates stand on them, else windows alone.
RateSide as_course(const RateSide& side) {
  constexpr double most_of_them = 0.8;
  double answered = 0, from_beats = 0;
  for (const RateWindow& window : side.rates.windows) {
    answered += window.rate ? 1 : 0;
    from_beats += window.rate && window.method == RateMethod::beats ? 1 : 0;
  }
  RateSide course{side.rates, std::nullopt};
  if (answered > 0 && from_beats >= most_of_them * answered) course.beats = side.beats;
  return course;
}

Seconds window_of(const RateSeries& rates) {
  const Seconds length = rates.windows.empty() ? Seconds{0} : rates.windows.front().window.length();
  return length < shortest_window ? usual_window : length;
}

CourseLag lag_of(const RateSide& reference, const RateSide& test, Seconds middle, const AlignmentOptions& options) {
  // Beats are smoothed as the other side's windows are, and windows compared at their own times where the other side is known at every time.
  std::optional<Seconds> smooth;
  if (reference.beats && !test.beats) smooth = window_of(test.rates);
  if (test.beats && !reference.beats) smooth = window_of(reference.rates);
  const bool by_reference = !reference.beats && test.beats;
  const auto between = [](bool points) { return points ? BetweenWindows::left_out : BetweenWindows::straight_lines; };
  return find_lag(course_of(reference, smooth, between(by_reference)), course_of(test, smooth, between(!by_reference)),
                  middle, options);
}

/// Offset as a function of the reference's time, with errors.
struct Relation {
  OffsetLine line;          ///< in the reference's time
  double middle_s = 0;      ///< of the record, by the reference's clock
  double offset_error = 0;  ///< at the middle
  bool from_beats = false;
  std::optional<AlignmentGain> gain;

  [[nodiscard]] double offset_at_middle() const { return line.offset + line.slope * middle_s; }
};

/// From rates: those of one side at their own times against the other side at any time.
std::optional<Relation> by_rates(const RateSide& reference, const RateSide& test, double lag_s, Seconds as_is,
                                 bool with_drift) {
  const bool of_test = reference.beats || !test.beats;  // the test's rates are looked up in the reference
  const RateSide &known_side = of_test ? reference : test, &other = of_test ? test : reference;
  const RateAtAnyTime known = known_side.beats ? RateAtAnyTime::of_beats(*known_side.beats, window_of(other.rates))
                                               : RateAtAnyTime::of_windows(known_side.rates);
  const std::vector<TimedRate> rates = timed_rates(other.rates);
  const auto fit = fit_clocks(known, rates, of_test ? -lag_s : lag_s, with_drift);
  if (!fit) return std::nullopt;
  Relation relation;
  relation.gain = gain_of(known, rates, *fit, of_test ? -as_is.value() : as_is.value());
  relation.offset_error = fit->shift_error_s;
  const double middle_error = fit->drift_error * fit->middle_s;
  const double cross = fit->covariance * fit->middle_s;
  if (of_test) {
    // reference = test + shift + drift (test - middle), solved for the test
    relation.line.slope = 1 / (1 + fit->drift) - 1;
    relation.line.offset = (fit->drift * fit->middle_s - fit->shift_s) / (1 + fit->drift);
    relation.middle_s = fit->middle_s + fit->shift_s;
  } else {
    relation.line.slope = fit->drift;
    relation.line.offset = fit->shift_s - fit->drift * fit->middle_s;
    relation.middle_s = fit->middle_s;
  }
  if (with_drift) {
    relation.line.error_ppm = 1e6 * fit->drift_error;
    relation.line.offset_error =
        std::sqrt(std::max(0.0, fit->shift_error_s * fit->shift_error_s + middle_error * middle_error - 2 * cross));
  }
  return relation;
}

/// From beats that belong together, where that tells the offset better.
void refine_by_beats(const BeatTrain& reference, const BeatTrain& test, bool with_drift, Relation& relation,
                     std::vector<StretchOffset>& stretches) {
  std::vector<StretchOffset> found = offsets_of_beats(reference, test, relation.line);
  if (found.empty()) return;
  std::vector<double> offsets;
  offsets.reserve(found.size());
  for (const StretchOffset& s : found) offsets.push_back(s.offset.value());
  const auto line = line_through(found);
  if (with_drift && line) {
    relation.line = *line;
    relation.offset_error = *line->error_at_middle;
  } else {
    const double before = relation.offset_at_middle();
    relation.line.offset = median_of(offsets) - relation.line.slope * relation.middle_s;
    // A beat is matched where it was expected: it cannot say more than that when there are few stretches.
    relation.offset_error = line ? *line->error_at_middle : std::abs(relation.offset_at_middle() - before);
  }
  relation.from_beats = true;
  stretches = std::move(found);
}

bool exceeds(double value, double error, double errors) { return std::abs(value) > errors * error; }

/// Why what was found is not applied in place of `as_is`; empty when it is.
std::string why_not(const Relation& relation, Seconds as_is, bool with_drift) {
  const double offset = relation.offset_at_middle() - as_is.value(), error = relation.offset_error;
  const char* what = as_is == Seconds{0} ? "the offset" : "the offset from there";
  if (!with_drift && !exceeds(offset, error, demanding_errors))
    return fmt::format("{} found, {:.2f} s with a standard error of {:.2f}, may be none, and is not applied", what,
                       offset, error);
  if (relation.from_beats || !relation.gain) return "";
  if (relation.gain->bpm > demanding_errors * relation.gain->error) return "";
  return fmt::format(
      "an offset of {:.2f} s (standard error {:.2f}) was found and not applied: with it the mean absolute difference "
      "is "
      "{:.2f} beats/min {} (standard error {:.2f}), which may be chance",
      offset, error, std::abs(relation.gain->bpm), relation.gain->bpm < 0 ? "larger" : "smaller", relation.gain->error);
}

void apply(Alignment& alignment, const Relation& relation, bool with_drift) {
  alignment.applied = with_drift ? AlignmentSteps::offset_and_drift : AlignmentSteps::offset;
  // Without drift the one offset that serves best is that at the middle.
  alignment.offset = Seconds{with_drift ? relation.line.offset : relation.offset_at_middle()};
  if (with_drift) alignment.drift_ppm = 1e6 * relation.line.slope;
}

void refuse(Alignment& alignment, std::string why) {
  alignment.refused = true;
  alignment.note = std::move(why);
}

}  // namespace

Seconds Alignment::to_reference(Seconds test) const { return (test - offset) / (1 + 1e-6 * drift_ppm); }

namespace {

/// Looks on either side of `as_is`, which stays where nothing else is demanded.
Alignment align_near(const RateSide& reference, const RateSide& test, Seconds as_is, const AlignmentOptions& options) {
  Alignment alignment;
  const RateSide a = as_course(reference), b = as_course(test);
  CourseLag lag = lag_of(a, b, as_is, options);
  alignment.common = Seconds{lag.common_as_is_s};
  alignment.correlation = lag.correlation;
  alignment.correlation_before = lag.correlation_before;
  if (!lag.refusal.empty()) {
    refuse(alignment, std::move(lag.refusal));
    return alignment;
  }
  const bool long_enough = lag.common_s >= options.least_for_drift.value();
  const bool seeks_drift = long_enough && options.steps == AlignmentSteps::offset_and_drift;
  auto relation = by_rates(a, b, lag.lag_s, as_is, seeks_drift);
  if (!relation) {
    refuse(alignment, fmt::format("near the offset at which the courses correlate best, {:.1f} s, most rates disagree",
                                  lag.lag_s));
    return alignment;
  }
  if (reference.beats && test.beats)
    refine_by_beats(*reference.beats, *test.beats, seeks_drift, *relation, alignment.stretches);
  const OffsetLine& line = relation->line;
  const bool with_drift = seeks_drift && line.error_ppm &&
                          (relation->from_beats || exceeds(1e6 * line.slope, *line.error_ppm, believable_errors));
  alignment.found_offset = Seconds{relation->offset_at_middle()};
  alignment.offset_error = Seconds{with_drift && line.offset_error ? *line.offset_error : relation->offset_error};
  if (seeks_drift && line.error_ppm) {
    alignment.found_drift_ppm = 1e6 * line.slope;
    alignment.drift_error_ppm = line.error_ppm;
  }
  if (relation->gain) {
    alignment.gain_bpm = relation->gain->bpm;
    alignment.gain_error_bpm = relation->gain->error;
  }
  if (options.only_where_demanded) alignment.note = why_not(*relation, as_is, with_drift);
  if (!alignment.note.empty()) return alignment;
  apply(alignment, *relation, with_drift);
  if (options.steps == AlignmentSteps::offset_and_drift && !with_drift)
    alignment.note =
        long_enough
            ? fmt::format(
                  "a drift of {:.0f} ppm is less than three standard errors ({:.0f} each) and is taken for none",
                  1e6 * line.slope, line.error_ppm.value_or(0))
            : fmt::format("drift is not looked for in less than {:.0f} min", options.least_for_drift.value() / 60);
  return alignment;
}

std::string beginning(Seconds offset) {
  if (offset == Seconds{0}) return "both began at once";
  return fmt::format("the test began {:.2f} s {} the reference", std::abs(offset.value()),
                     offset < Seconds{0} ? "after" : "before");
}

void apply_clocks(Alignment& alignment, Seconds by_clocks) {
  alignment.clocks = StatedClocks::followed;
  if (alignment.applied != AlignmentSteps::none) return;
  alignment.offset = by_clocks;
  if (by_clocks != Seconds{0}) alignment.applied = AlignmentSteps::offset;
}

void contradict(Alignment& alignment) { alignment.clocks = StatedClocks::contradicted; }

/// Puts what the clocks say before the note.
Alignment told(Alignment alignment, Seconds by_clocks, const std::string& what) {
  std::string note = "by their clocks " + beginning(by_clocks) + what;
  alignment.note = alignment.note.empty() ? std::move(note) : note + "; " + alignment.note;
  return alignment;
}

std::string instead(const Alignment& alignment) {
  return "; by their rates " + beginning(alignment.offset) + ", and these are followed";
}

Alignment align_from_clocks(const RateSide& reference, const RateSide& test, Seconds by_clocks,
                            const AlignmentOptions& options) {
  Alignment near = align_near(reference, test, by_clocks, options);
  if (!near.refused) {
    apply_clocks(near, by_clocks);
    const double apart = near.found_offset ? std::abs((near.offset - by_clocks).value()) : 0;
    if (apart <= clocks_within_s + demanding_errors * near.offset_error.value_or(Seconds{0}).value())
      return told(std::move(near), by_clocks, "");
    contradict(near);
    const std::string what = instead(near);
    return told(std::move(near), by_clocks, what);
  }
  Alignment plain = align_near(reference, test, Seconds{0}, options);
  if (!plain.refused) {
    contradict(plain);
    const std::string what = instead(plain);
    return told(std::move(plain), by_clocks, what);
  }
  if (near.common <= Seconds{0}) {
    contradict(plain);
    return told(std::move(plain), by_clocks, ", which leaves them nothing in common and is not applied");
  }
  apply_clocks(near, by_clocks);
  near.refused = false;
  near.note = "the rates cannot tell: " + near.note;
  return told(std::move(near), by_clocks, "");
}

}  // namespace

Alignment align(const RateSide& reference, const RateSide& test, const AlignmentOptions& options,
                std::optional<Seconds> by_clocks) {
  if (options.steps == AlignmentSteps::none) {
    Alignment alignment;
    alignment.note = "not asked for";
    return alignment;
  }
  return by_clocks ? align_from_clocks(reference, test, *by_clocks, options)
                   : align_near(reference, test, Seconds{0}, options);
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
