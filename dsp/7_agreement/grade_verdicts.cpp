#include <fmt/format.h>

#include "pulsewright/sensor_grade.hpp"

namespace pulsewright {

namespace {

// What each use asks for (ours), but for the sampling rates, whose rules stand in `needed_rates`.
constexpr double readable_at_rest = 90.0, readable_for_variability = 95.0;
constexpr double most_lost_at_rest = 5.0, most_lost_for_variability = 1.0;
/// Moments of sampling this uncertain make an RMSSD of their own: sqrt 6 times the jitter, 5 ms at 2 ms.
constexpr double most_jitter_ms = 2.0;
/// Without a motion channel nothing tells a stride from a pulse; below this rate the rhythms are not followed either.
constexpr Hertz least_rate_moving{16.0};

bool fast_enough(const ChannelGrade& grade, const char* measure) {
  for (const NeededRate& needed : grade.needed)
    if (needed.measure == measure) return needed.met;
  return true;
}

/// Collects what stands against a use.
class Verdict {
 public:
  Verdict(GradeUse use, std::string rule) { verdict_ = {use, true, std::move(rule), {}}; }
  void need(bool met, const std::string& otherwise) {
    if (met) return;
    verdict_.good = false;
    verdict_.why += (verdict_.why.empty() ? "" : "; ") + otherwise;
  }
  [[nodiscard]] GradeVerdict take() const { return verdict_; }

 private:
  GradeVerdict verdict_;
};

std::string percent(std::optional<double> value) { return value ? fmt::format("{:.0f} %", *value) : "an unknown share"; }

}  // namespace

const char* to_string(GradeUse use) {
  switch (use) {
    case GradeUse::rate_at_rest: return "rate_at_rest";
    case GradeUse::rate_while_moving: return "rate_while_moving";
    case GradeUse::variability: break;
  }
  return "variability";
}

std::vector<GradeVerdict> grade_verdicts(const ChannelGrade& grade, bool has_motion) {
  if (grade.kind != ChannelKind::ecg && grade.kind != ChannelKind::pulse) return {};
  const double readable = grade.readable_percent.value_or(0.0), lost = grade.lost_percent.value_or(0.0);
  const std::string readable_text = percent(grade.readable_percent) + " of it is readable";
  const std::string lost_text = percent(grade.lost_percent) + " of its samples are lost";

  Verdict rest(GradeUse::rate_at_rest,
               fmt::format("{:g} % readable, at most {:g} % lost, and fast enough for a rate over a window",
                           readable_at_rest, most_lost_at_rest));
  rest.need(readable >= readable_at_rest, readable_text);
  rest.need(lost <= most_lost_at_rest, lost_text);
  rest.need(fast_enough(grade, "rate_over_window"), "it is sampled too slowly");

  Verdict moving(GradeUse::rate_while_moving,
                 "as at rest, and of a pulse a motion sensor on the same clock, which tells a stride from a heart");
  moving.need(rest.take().good, rest.take().why);
  if (grade.kind == ChannelKind::pulse) {
    moving.need(has_motion, "nothing beside it measures motion");
    moving.need(grade.rate >= least_rate_moving, "it is sampled too slowly");
  }

  Verdict variability(GradeUse::variability,
                      fmt::format("{:g} % readable, at most {:g} % lost, jitter of at most {:g} ms, and fast enough for "
                                  "a low RMSSD",
                                  readable_for_variability, most_lost_for_variability, most_jitter_ms));
  variability.need(readable >= readable_for_variability, readable_text);
  variability.need(lost <= most_lost_for_variability, lost_text);
  variability.need(!grade.jitter_ms || *grade.jitter_ms <= most_jitter_ms,
                   fmt::format("its clock jitters by {:.1f} ms", grade.jitter_ms.value_or(0.0)));
  variability.need(fast_enough(grade, "rmssd"), "it is sampled too slowly");
  return {rest.take(), moving.take(), variability.take()};
}

}  // namespace pulsewright
