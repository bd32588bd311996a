// Prints how well phases, kinetics, recovery and times at intensity are told, on a simulated class whose truth is known.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <iostream>

#include "pulsewright/pipeline.hpp"
#include "pulsewright/session.hpp"
#include "simulated_class.hpp"

using namespace pulsewright;

namespace {

struct Tally {
  std::vector<double> boundary_s;  ///< distance of each true boundary from the nearest found one
  int extra_boundaries = 0;
  double right_kind_s = 0, whole_s = 0;
  std::vector<double> tau_percent;  ///< error of each time constant given
  int taus_possible = 0, tau_covered = 0;
  std::vector<double> recovery_bpm;  ///< error of each fall, first and second minute
  int falls_possible = 0;
  std::vector<double> category_s;        ///< largest error of a category, per member, from the rate that the beats give
  std::vector<double> clean_category_s;  ///< the same from the true rate, once a second
};

double share_within(const std::vector<double>& errors, double limit) {
  if (errors.empty()) return 0;
  const auto within = std::count_if(errors.begin(), errors.end(), [&](double e) { return std::abs(e) <= limit; });
  return 100.0 * static_cast<double>(within) / static_cast<double>(errors.size());
}

double largest(const std::vector<double>& errors) {
  double most = 0;
  for (const double e : errors) most = std::max(most, std::abs(e));
  return most;
}

double median_magnitude(std::vector<double> errors) {
  if (errors.empty()) return 0;
  for (double& e : errors) e = std::abs(e);
  const auto middle = errors.begin() + static_cast<std::ptrdiff_t>(errors.size() / 2);
  std::nth_element(errors.begin(), middle, errors.end());
  return *middle;
}

double true_rate(const Truth& truth, double t) {
  const auto at = std::min(static_cast<std::size_t>(std::max(0.0, t)), truth.course.size() - 2);
  const double part = t - static_cast<double>(at);
  return (1 - part) * truth.course[at].rate.value() + part * truth.course[at + 1].rate.value();
}

void tally_boundaries(const SessionEffort& found, const Truth& truth, Tally& tally) {
  std::vector<double> cuts, true_cuts;
  for (std::size_t k = 1; k < found.phases.size(); ++k) cuts.push_back(found.phases[k].span().start.value());
  for (std::size_t k = 1; k < truth.phases.size(); ++k) true_cuts.push_back(truth.phases[k].span.start.value());
  const auto nearest = [](const std::vector<double>& all, double t) {
    double best = 1e9;
    for (const double other : all) best = std::min(best, std::abs(other - t));
    return best;
  };
  for (const double cut : true_cuts) tally.boundary_s.push_back(nearest(cuts, cut));
  for (const double cut : cuts) tally.extra_boundaries += nearest(true_cuts, cut) > 15.0;
}

void tally_kinds(const SessionEffort& found, const accuracy::SimulatedLesson& lesson, const Truth& truth,
                 Tally& tally) {
  for (double t = 0.5; t < truth.duration.value(); t += 1.0) {
    std::size_t k = 0, f = 0;
    while (k + 1 < truth.phases.size() && !truth.phases[k].span.contains(Seconds{t})) ++k;
    while (f + 1 < found.phases.size() && !found.phases[f].span().contains(Seconds{t})) ++f;
    tally.right_kind_s += found.phases[f].kind == lesson.kinds[k];
    tally.whole_s += 1.0;
  }
}

void tally_kinetics(const SessionEffort& found, const accuracy::SimulatedLesson& lesson, Tally& tally) {
  for (const PhaseKinetics& k : found.kinetics) {
    ++tally.taus_possible;
    if (!k.fit) continue;
    const double truth = (k.rising ? lesson.scenario.heart.rise : lesson.scenario.heart.fall).value();
    tally.tau_percent.push_back(100.0 * (k.fit->tau.value() / truth - 1.0));
    tally.tau_covered += k.fit->low.value() <= truth && truth <= k.fit->high.value();
  }
}

void tally_recovery(const SessionEffort& found, const accuracy::SimulatedLesson& lesson, const Truth& truth,
                    Tally& tally) {
  double stop = 0;
  for (std::size_t k = 0; k < lesson.kinds.size(); ++k)
    if (lesson.kinds[k] == PhaseKind::work) stop = truth.phases[k].span.end.value();
  tally.falls_possible += 2;
  if (!found.recovery) return;
  const auto add = [&](const std::optional<BeatsPerMinute>& fall, double from) {
    if (fall)
      tally.recovery_bpm.push_back(fall->value() -
                                   (true_rate(truth, stop + from) - true_rate(truth, stop + from + 60)));
  };
  add(found.recovery->first_minute_fall, 0);
  add(found.recovery->second_minute_fall, 60);
}

/// The largest error of the time in any category.
double category_error(const Effort& found, const accuracy::SimulatedLesson& lesson, const Truth& truth) {
  std::array<double, intensity_count> time{};
  const Heart& heart = lesson.scenario.heart;
  constexpr double step = 0.1;
  for (double t = 0.5 * step; t < truth.duration.value(); t += step) {
    const double share = (true_rate(truth, t) - heart.resting.value()) / (heart.maximum - heart.resting).value();
    time[static_cast<std::size_t>(intensity_of_reserve(share))] += step;
  }
  double worst = 0;
  for (std::size_t i = 0; i < time.size(); ++i)
    worst = std::max(worst, std::abs(static_cast<double>((*found.category_us)[i]) / 1e6 - time[i]));
  return worst;
}

/// The true rate as a device would show it that makes no error, once a second.
RateSeries clean_rates(const Truth& truth) {
  RateSeries rates;
  rates.options = {Seconds{1.0}, Seconds{1.0}};
  rates.duration = truth.duration;
  for (double t = 0; t + 1.0 <= truth.duration.value(); t += 1.0) {
    RateWindow window;
    window.window = {Seconds{t}, Seconds{t + 1.0}};
    window.rate = BeatsPerMinute{true_rate(truth, t + 0.5)};
    window.method = RateMethod::device;
    rates.windows.push_back(window);
  }
  return rates;
}

void tally_categories(const SessionEffort& found, const accuracy::SimulatedLesson& lesson, const Truth& truth,
                      Tally& tally) {
  tally.category_s.push_back(category_error(found.effort, lesson, truth));
  tally.clean_category_s.push_back(category_error(effort(clean_rates(truth), found.effort.person), lesson, truth));
}

struct Request {
  std::uint64_t first_seed = 1;
  int members = 30;
  double variability_ms = 50;
  bool signal = false, marked = false, list = false;
};

Tally score(const Request& request) {
  Tally tally;
  for (int i = 0; i < request.members; ++i) {
    const auto lesson =
        accuracy::simulated_lesson(request.first_seed + static_cast<std::uint64_t>(i), request.variability_ms);
    const Simulation simulation = simulate(lesson.scenario);
    Person person;
    person.code = "member";
    person.resting = lesson.scenario.heart.resting;
    person.measured_maximum = lesson.scenario.heart.maximum;
    const Analysis analysis = request.signal ? analyze(simulation.recording, person)
                                             : analyze(simulation.truth.pulse_train(lesson.scenario.rate), person);
    SessionOptions options;
    if (request.marked)
      for (std::size_t k = 0; k < lesson.kinds.size(); ++k)
        options.marks.push_back({simulation.truth.phases[k].span.start, lesson.kinds[k], {}});
    const SessionEffort found = study_session(analysis.rates, person, options);
    tally_boundaries(found, simulation.truth, tally);
    tally_kinds(found, lesson, simulation.truth, tally);
    tally_kinetics(found, lesson, tally);
    tally_recovery(found, lesson, simulation.truth, tally);
    tally_categories(found, lesson, simulation.truth, tally);
    if (!request.list) continue;
    std::cout << "member " << lesson.scenario.seed << "\n";
    for (std::size_t k = 0; k < lesson.kinds.size(); ++k)
      fmt::print("  true  {:7.1f} {:9} {:.2f} -> {:.0f}\n", simulation.truth.phases[k].span.start.value(),
                 to_string(lesson.kinds[k]), lesson.scenario.phases[k].workload,
                 lesson.scenario.heart.resting.value() +
                     lesson.scenario.phases[k].workload *
                         (lesson.scenario.heart.maximum - lesson.scenario.heart.resting).value());
    for (const Phase& phase : found.phases)
      fmt::print("  found {:7.1f} {:9} -> {:.0f}\n", phase.span().start.value(), to_string(phase.kind),
                 phase.settling_rate->value());
    for (const PhaseKinetics& k : found.kinetics)
      fmt::print("  tau of {} : {:.1f} +- {:.1f} of {:.1f} {}\n", k.phase, k.fit ? k.fit->tau.value() : 0.0,
                 k.fit ? (k.fit->high - k.fit->tau).value() : 0.0,
                 (k.rising ? lesson.scenario.heart.rise : lesson.scenario.heart.fall).value(), k.reason);
    if (found.recovery)
      fmt::print("  stop {:.1f} falls {:.1f} {:.1f}, errors {:.2f} {:.2f}\n", found.recovery->stop.value(),
                 found.recovery->first_minute_fall.value_or(BeatsPerMinute{}).value(),
                 found.recovery->second_minute_fall.value_or(BeatsPerMinute{}).value(),
                 tally.recovery_bpm.size() > 1 ? tally.recovery_bpm[tally.recovery_bpm.size() - 2] : 0,
                 tally.recovery_bpm.empty() ? 0 : tally.recovery_bpm.back());
  }
  return tally;
}

/// One line of the table: a measure in every condition.
template <class Measure>
void print(const char* name, const std::vector<Tally>& tallies, Measure measure) {
  fmt::print("| {} |", name);
  for (const Tally& tally : tallies) fmt::print(" {} |", measure(tally));
  fmt::print("\n");
}

void print_table(int members, const std::vector<Tally>& tallies) {
  fmt::print("| class of {} | a heart like a clock | usual variability | from the finger clip | phases marked |\n",
             members);
  fmt::print("| --- | ---: | ---: | ---: | ---: |\n");
  const auto one = [](double value) { return fmt::format("{:.1f}", value); };
  const auto two = [](double value) { return fmt::format("{:.2f}", value); };
  print("boundaries between phases", tallies, [](const Tally& t) { return std::to_string(t.boundary_s.size()); });
  print("found within 15 s, %", tallies, [&](const Tally& t) { return one(share_within(t.boundary_s, 15)); });
  print("found where there is none", tallies, [](const Tally& t) { return std::to_string(t.extra_boundaries); });
  print("time in a phase of the right kind, %", tallies,
        [&](const Tally& t) { return one(100 * t.right_kind_s / t.whole_s); });
  print("time constants given, of all changes", tallies,
        [](const Tally& t) { return fmt::format("{} of {}", t.tau_percent.size(), t.taus_possible); });
  print("their error, median %", tallies, [&](const Tally& t) { return one(median_magnitude(t.tau_percent)); });
  print("within 10 %, %", tallies, [&](const Tally& t) { return one(share_within(t.tau_percent, 10)); });
  print("largest error, %", tallies, [&](const Tally& t) { return one(largest(t.tau_percent)); });
  print("95 % interval holds the truth, %", tallies, [&](const Tally& t) {
    return t.tau_percent.empty() ? std::string{"-"}
                                 : one(100.0 * t.tau_covered / static_cast<double>(t.tau_percent.size()));
  });
  print("falls in the first and second minute given", tallies,
        [](const Tally& t) { return fmt::format("{} of {}", t.recovery_bpm.size(), t.falls_possible); });
  print("their error, median beats/min", tallies,
        [&](const Tally& t) { return two(median_magnitude(t.recovery_bpm)); });
  print("within 1 beat/min, %", tallies, [&](const Tally& t) { return one(share_within(t.recovery_bpm, 1.0)); });
  print("largest error, beats/min", tallies, [&](const Tally& t) { return two(largest(t.recovery_bpm)); });
  print("time in a category, largest error, s", tallies, [&](const Tally& t) { return one(largest(t.category_s)); });
  print("the same from the true rate, s", tallies, [&](const Tally& t) { return one(largest(t.clean_category_s)); });
  print("people for whom that is within 2 s, %", tallies,
        [&](const Tally& t) { return one(share_within(t.clean_category_s, 2.0)); });
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Accuracy of phases, kinetics, recovery and times at intensity on a simulated class."};
  Request request;
  bool development = false;
  app.add_option("--members", request.members, "people in the class");
  app.add_flag("--development", development, "the class that parameters were set on, instead of the other");
  app.add_flag("--list", request.list, "print every member's phases");
  CLI11_PARSE(app, argc, argv);
  request.first_seed = development ? 1 : 1001;
  try {
    std::vector<Tally> tallies;
    request.variability_ms = 0;
    tallies.push_back(score(request));
    request.list = false;
    request.variability_ms = 50;
    tallies.push_back(score(request));
    request.signal = true;
    tallies.push_back(score(request));
    request.signal = false;
    request.marked = true;
    tallies.push_back(score(request));
    print_table(request.members, tallies);
  } catch (const std::exception& error) {
    std::cerr << "effort accuracy: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
