#include "pulsewright/kinetics.hpp"

#include <fmt/format.h>

#include <cmath>

#include "course_regression.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright {

namespace {

constexpr double least_change_bpm = 15.0;
constexpr double least_length_s = 60.0;
constexpr double least_measured = 0.8;
constexpr double taus_in_view = 2.0;
constexpr double least_explained = 0.90;
constexpr double most_half_width = 0.30;
/// A bout as long as this may drift by a beat or more (ours).
constexpr double drifting_length_s = 240.0;

/// Averaging over a window of length w leaves an exponential one, of the same tau, larger by sinh(w / 2 tau) / (w / 2 tau).
double window_gain(double window_s, double tau_s) {
  const double u = 0.5 * window_s / tau_s;
  return u > 0.0 ? elementary::sinh(u) / u : 1.0;
}

/// Why a fit does not deserve a time constant; empty when it does.
std::string fault_of(const ExponentialCourse& course, double length_s) {
  if (course.explained < least_explained)
    return fmt::format("an exponential explains {:.0f} % of the course, and must explain {:.0f}",
                       100 * course.explained, 100 * least_explained);
  if (length_s < taus_in_view * course.tau)
    return fmt::format("{:.0f} s are less than two time constants of the best fit ({:.0f} s)", length_s, course.tau);
  if (!(course.tau_half_width <= most_half_width * course.tau))
    return fmt::format("the best fit of {:.0f} s is known to no better than {:.0f} s; it must be to {:.0f} %",
                       course.tau, std::min(course.tau_half_width, 999.0), 100 * most_half_width);
  return {};
}

}  // namespace

double FittedCurve::at(Seconds time) const {
  const double t = (time - start).value();
  return level_bpm + size_bpm * (1.0 - elementary::exp(-t / tau.value())) + slope_bpm_per_s * t;
}

std::vector<PhaseKinetics> fit_kinetics(std::span<const EffortCell> cells, Seconds window,
                                        std::span<const Phase> phases) {
  const std::vector<MeasuredPoint> course = measured_course(cells);
  const double correlated = cells_per_window(cells, window);
  const double half_window = 0.5 * window.value();
  std::vector<PhaseKinetics> result;
  for (std::size_t k = 1; k < phases.size(); ++k) {
    const Phase& before = phases[k - 1];
    const Phase& phase = phases[k];
    if (!before.settling_rate || !phase.settling_rate) continue;
    const double change = (*phase.settling_rate - *before.settling_rate).value();
    if (std::abs(change) < least_change_bpm) continue;
    PhaseKinetics kinetics{k, change > 0, std::nullopt, {}};
    const double start = phase.span().start.value(), length = phase.span().length().value();
    const auto points = points_between(course, start + half_window, phase.span().end.value() - half_window);
    if (length < least_length_s)
      kinetics.reason = fmt::format("the phase lasts {:.0f} s, and must last {:.0f}", length, least_length_s);
    else if (static_cast<double>(phase.unmeasured_us) > (1.0 - least_measured) * static_cast<double>(phase.length_us))
      kinetics.reason = "more than a fifth of the phase is not measured";
    else if (const auto fitted = exponential_through(points, start, length >= drifting_length_s, correlated); !fitted)
      kinetics.reason = "the windows that lie wholly inside the phase are too few";
    else if (kinetics.reason = fault_of(*fitted, length);
             kinetics.reason.empty() && (fitted->size > 0) != kinetics.rising)
      kinetics.reason = "the best fit goes the other way";
    else if (kinetics.reason.empty())
      kinetics.fit =
          TimeConstant{Seconds{fitted->tau},
                       Seconds{fitted->tau - fitted->tau_half_width},
                       Seconds{fitted->tau + fitted->tau_half_width},
                       BeatsPerMinute{fitted->size / window_gain(window.value(), fitted->tau)},
                       fitted->explained,
                       {Seconds{fitted->start}, Seconds{fitted->tau}, fitted->level, fitted->size, fitted->slope}};
    result.push_back(std::move(kinetics));
  }
  return result;
}

}  // namespace pulsewright
