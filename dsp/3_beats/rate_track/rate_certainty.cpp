#include "rate_certainty.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "elementary/elementary.hpp"
#include "rate_grid.hpp"

namespace pulsewright::beats_stage {
namespace {

/// The contract's confidence: within 5 beats/min.
constexpr double near_bpm = 5.0;

// Fitted by tests/accuracy/fit_rate_certainty.py on the development recordings and on noise without a pulse.
struct Curve {
  double constant, agreement,
      concentration;  ///< of 1, of the log-odds of the agreement, of the log of the concentration
  double scale_bpm;   ///< of the double exponential
};
/// [causal][motion channels used]
constexpr std::array<std::array<Curve, 2>, 2> curves{{{{{-0.854, 0.611, 0.417, 1.1}, {-4.075, 2.218, 0.0, 1.2}}},
                                                      {{{-1.024, 0.680, 0.102, 1.1}, {-4.396, 2.371, 0.0, 1.2}}}}};
constexpr double least_concentration = 1e-3;
constexpr double most_confidence = 0.999;

double cell_low(std::size_t i) { return grid_bpm(i) - 0.5 * grid_step_bpm; }

}  // namespace

double mass_near(std::span<const float> posterior, double bpm) {
  double sum = 0.0;
  for (std::size_t i = 0; i < posterior.size(); ++i) {
    if (std::abs(grid_bpm(i) - bpm) <= near_bpm) sum += static_cast<double>(posterior[i]);
  }
  return std::min(sum, 1.0);
}

double median_rate(std::span<const float> posterior) {
  double below = 0.0;
  for (std::size_t i = 0; i < posterior.size(); ++i) {
    const double mass = static_cast<double>(posterior[i]);
    if (below + mass >= 0.5) return cell_low(i) + grid_step_bpm * (mass > 0.0 ? (0.5 - below) / mass : 0.5);
    below += mass;
  }
  return grid_bpm(posterior.size() - 1);
}

RateCertainty certainty_of(double rate_bpm, std::span<const float> posterior, const RateClues& clues) {
  const Curve& curve = curves[clues.causal ? 1 : 0][clues.motion_used ? 1 : 0];
  const double x = curve.constant + curve.agreement * elementary::log(clues.agreement / (1.0 - clues.agreement)) +
                   curve.concentration * elementary::log(std::max(clues.concentration, least_concentration));
  RateCertainty result;
  const double followed = std::min(most_confidence, 1.0 / (1.0 + elementary::exp(-x)));
  // Without an anchor the surest are held down most, and stay the surest.
  const double alone = followed - (1.0 - clues.support.without_anchor) * followed * followed;
  result.confidence = alone + clues.support.anchored * (followed - alone);

  // Share of the double exponential below an offset.
  const auto below = [&](double offset) {
    const double tail = 0.5 * elementary::exp(-std::abs(offset) / curve.scale_bpm);
    return offset < 0.0 ? tail : 1.0 - tail;
  };
  // The cumulative distribution at the upper end of each cell; the interval's ends are interpolated in it. The core is taken exactly, in quarter steps.
  constexpr int parts = 8;
  const double uniform = 1.0 / static_cast<double>(grid_size);
  double spread = 0.0, previous = 0.0;
  result.low_bpm = cell_low(0);
  result.high_bpm = cell_low(grid_size);
  bool low_found = false;
  for (std::size_t i = 0; i < grid_size; ++i) {
    const double mass = 0.5 * (static_cast<double>(posterior[i]) + uniform);
    const auto total_at = [&](double end, double share) {
      return result.confidence * below(end - rate_bpm) + (1.0 - result.confidence) * (spread + mass * share);
    };
    // Only the cells that hold an end are looked into.
    const double whole = total_at(cell_low(i) + grid_step_bpm, 1.0);
    if (low_found ? whole < 0.975 : whole < 0.025) {
      spread += mass;
      previous = whole;
      continue;
    }
    for (int part = 1; part <= parts; ++part) {
      const double end = cell_low(i) + grid_step_bpm * part / parts;
      const double total = total_at(end, static_cast<double>(part) / parts);
      if (!low_found && total >= 0.025) {
        result.low_bpm = end - grid_step_bpm / parts;
        low_found = true;
      }
      if (previous < 0.975 && total >= 0.975) {
        result.high_bpm = end;
        result.low_bpm = std::min(result.low_bpm, rate_bpm);
        result.high_bpm = std::max(result.high_bpm, rate_bpm);
        return result;
      }
      previous = total;
    }
    spread += mass;
  }
  return result;
}

}  // namespace pulsewright::beats_stage
