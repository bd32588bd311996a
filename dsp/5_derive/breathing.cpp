#include "pulsewright/breathing.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "breathing_evidence.hpp"
#include "breathing_modulations.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

/// From one window to the next the rate steps by so much on average (double exponential), a minute and per second of step; set like the constants of breathing_evidence.cpp.
constexpr double usual_step_per_min = 1.4;
constexpr Seconds usual_step_over{4.0};

using Evidence = std::optional<std::vector<double>>;

Eigen::MatrixXd steps_between(const std::vector<Hertz>& rates, Seconds step) {
  const auto count = static_cast<Eigen::Index>(rates.size());
  const double usual = usual_step_per_min / 60.0 * std::sqrt(step / usual_step_over);
  Eigen::MatrixXd steps(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j)
      steps(i, j) = elementary::exp(
          -std::abs(rates[static_cast<std::size_t>(i)].value() - rates[static_cast<std::size_t>(j)].value()) / usual);
    steps.row(i) /= steps.row(i).sum();
  }
  return steps;
}

/// The probability of each rate in each window, given all windows (forward and backward pass of a hidden Markov chain); a row a window.
Eigen::MatrixXd chances(const std::vector<Evidence>& windows, const std::vector<Hertz>& rates, Seconds step) {
  const auto count = static_cast<Eigen::Index>(rates.size());
  const auto rows = static_cast<Eigen::Index>(windows.size());
  const Eigen::MatrixXd steps = steps_between(rates, step);
  Eigen::MatrixXd likely = Eigen::MatrixXd::Ones(rows, count);
  for (Eigen::Index w = 0; w < rows; ++w) {
    const Evidence& evidence = windows[static_cast<std::size_t>(w)];
    if (!evidence) continue;
    const Eigen::Map<const Eigen::ArrayXd> logs(evidence->data(), count);
    likely.row(w) =
        (logs - logs.maxCoeff()).unaryExpr([](double x) { return elementary::exp(x); }).matrix().transpose();
  }
  Eigen::MatrixXd forward(rows, count);
  Eigen::RowVectorXd state = Eigen::RowVectorXd::Constant(count, 1.0 / static_cast<double>(count));
  for (Eigen::Index w = 0; w < rows; ++w) {
    if (w > 0) state = state * steps;
    state = state.cwiseProduct(likely.row(w));
    state /= state.sum();
    forward.row(w) = state;
  }
  Eigen::VectorXd back = Eigen::VectorXd::Ones(count);
  for (Eigen::Index w = rows - 1; w >= 0; --w) {
    const Eigen::VectorXd ahead = back.cwiseProduct(likely.row(w).transpose());
    forward.row(w) = forward.row(w).cwiseProduct(back.transpose());
    forward.row(w) /= forward.row(w).sum();
    back = steps * ahead;
    back /= back.sum();
  }
  return forward;
}

/// The rate below which this share of a row's probability lies; each grid point spreads evenly over its cell.
double quantile(const Eigen::MatrixXd& chance, Eigen::Index row, const std::vector<Hertz>& rates, double share) {
  const double cell = (rates[1] - rates[0]).value();
  double below = 0;
  for (std::size_t k = 0; k < rates.size(); ++k) {
    const double here = chance(row, static_cast<Eigen::Index>(k));
    if (below + here >= share && here > 0) return rates[k].value() + ((share - below) / here - 0.5) * cell;
    below += here;
  }
  return rates.back().value();
}

/// Beats show nothing that is faster than half their own rate.
void leave_out_faster(std::vector<double>& evidence, const std::vector<Hertz>& rates, Hertz fastest) {
  constexpr double impossible = -50.0;  // as a logarithm
  for (std::size_t k = 0; k < rates.size(); ++k)
    if (rates[k] > fastest) evidence[k] = impossible;
}

Hertz half_of_beats(const std::vector<Beat>& beats, Span window) {
  const auto inside = std::count_if(beats.begin(), beats.end(), [&](const Beat& b) { return window.contains(b.time); });
  return Hertz{0.5 * static_cast<double>(inside) / window.length().value()};
}

void check(const BreathingOptions& options) {
  constexpr double longest_s = 3600;
  if (!(options.window > Seconds{0}) || !(options.step > Seconds{0}) || !(options.widest > Hertz{0}) ||
      !(options.window.value() <= longest_s))
    throw Error{ErrorCode::contract,
                "breathing_rate: window, step and widest are positive, and a window is an hour at most"};
}

}  // namespace

BreathingSeries breathing_rate(const BeatTrain& beats, std::span<const Channel* const> channels,
                               const BreathingOptions& options) {
  check(options);
  BreathingSeries series;
  series.options = options;
  series.duration = beats.duration;
  series.provenance = beats.provenance;
  const std::vector<Beat> accepted = beats.accepted();
  const std::vector<BeatSeries> modulations = breathing_modulations(accepted, channels);
  if (modulations.size() == 1)
    series.warnings.push_back({"breathing_from_intervals_alone",
                               "Without a signal breathing is told from the intervals alone, which hardly show it in "
                               "exercise and in many adults"});
  BreathingEvidence evidence(options.window);
  std::vector<Evidence> windows;
  for (std::size_t k = 0; static_cast<double>(k) * options.step + options.window <= beats.duration; ++k) {
    BreathingWindow& window = series.windows.emplace_back();
    window.window.start = static_cast<double>(k) * options.step;
    window.window.end = window.window.start + options.window;
    windows.push_back(evidence.of(modulations, window.window.start.value()));
    if (windows.back()) leave_out_faster(*windows.back(), evidence.rates(), half_of_beats(accepted, window.window));
  }
  if (windows.empty()) return series;
  const Eigen::MatrixXd chance = chances(windows, evidence.rates(), options.step);
  for (std::size_t k = 0; k < windows.size(); ++k) {
    if (!windows[k]) continue;
    const auto at = [&](double share) {
      return Hertz{quantile(chance, static_cast<Eigen::Index>(k), evidence.rates(), share)};
    };
    const Hertz low = at(0.025), high = at(0.975);
    if (high - low > options.widest) continue;
    series.windows[k].rate = at(0.5);
    series.windows[k].low = low;
    series.windows[k].high = high;
  }
  return series;
}

}  // namespace pulsewright
