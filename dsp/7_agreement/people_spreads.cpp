#include "people_spreads.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright {
namespace {

/// SD of the half-normal that tau is taken from.
constexpr double tau_scale = 1.0;
/// Values of tau: close to nothing, and then evenly spaced, because the mean variance grows with exp(2 tau^2).
constexpr double least_tau = 0.01, second_tau = 0.04, tau_step = 0.08, most_tau = 3.0;
/// m is looked at so many of its standard errors to either side.
constexpr double log_reach = 6;
constexpr std::size_t logs = 31;

/// Gauss-Hermite nodes and weights for seven points (Abramowitz & Stegun 1964, table 25.10).
constexpr std::array<double, 7> nodes{-2.651961356835233, -1.673551628767471, -0.8162878828589647, 0,
                                      0.8162878828589647, 1.673551628767471,  2.651961356835233};
constexpr std::array<double, 7> weights{9.717812450995192e-4, 0.05451558281912703, 0.4256072526101278,
                                        0.8102646175568073,   0.4256072526101278,  0.05451558281912703,
                                        9.717812450995192e-4};

/// A person as the integrals need it: half the logarithm of the variance, and the squared error of that.
struct Seen {
  double log_sd = 0, error2 = 0, degrees = 0;
};

/// Likelihood of what was found of a person, over the own SD given m and tau, up to a constant of the person.
double likelihood(const Seen& person, double m, double tau) {
  const double of_prior = 1 / (tau * tau), of_person = 1 / person.error2;
  const double middle = (m * of_prior + person.log_sd * of_person) / (of_prior + of_person);
  const double scale = 1 / std::sqrt(of_prior + of_person);
  double sum = 0;
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    const double x = middle + std::sqrt(2.0) * scale * nodes[k];
    const double of_m = (x - m) / tau, below = person.log_sd - x;
    sum += weights[k] * elementary::exp(nodes[k] * nodes[k] + person.degrees * below +
                                        person.degrees / 2 * (1 - elementary::exp(2 * below)) - 0.5 * of_m * of_m);
  }
  return sum * scale / tau;
}

std::vector<double> grid_of_tau() {
  std::vector<double> grid{least_tau};
  for (std::size_t k = 0; grid.back() < most_tau; ++k) grid.push_back(second_tau + tau_step * static_cast<double>(k));
  return grid;
}

/// Where m lies for a given tau, as of normal distributions, and how uncertain it is.
struct Middle {
  double at = 0, error = 0;
};
Middle middle_of(std::span<const Seen> people, double tau) {
  double sum = 0, weight = 0;
  for (const Seen& person : people) {
    const double w = 1 / (tau * tau + person.error2);
    sum += w * person.log_sd;
    weight += w;
  }
  Middle middle{sum / weight, 0};
  double rest = 0;
  for (const Seen& person : people) {
    const double d = person.log_sd - middle.at;
    rest += d * d / (tau * tau + person.error2);
  }
  // Wider where people differ by more than this tau explains.
  const double wider = std::max(1.0, rest / static_cast<double>(std::max<std::size_t>(people.size() - 1, 1)));
  middle.error = std::sqrt(wider / weight);
  return middle;
}

}  // namespace

std::vector<double> cumulated_weight(std::span<const double> at, std::span<const double> density) {
  std::vector<double> sums{0};
  for (std::size_t i = 1; i < at.size(); ++i)
    sums.push_back(sums.back() + (density[i] + density[i - 1]) / 2 * (at[i] - at[i - 1]));
  return sums;
}

double at_share(std::span<const double> at, std::span<const double> cumulated, double share) {
  const double wanted = share * cumulated.back();
  const auto after = std::lower_bound(cumulated.begin(), cumulated.end(), wanted);
  if (after == cumulated.begin()) return at.front();
  const auto i = std::min(static_cast<std::size_t>(after - cumulated.begin()), at.size() - 1);
  const double step = cumulated[i] - cumulated[i - 1];
  return at[i - 1] + (at[i] - at[i - 1]) * (step > 0 ? (wanted - cumulated[i - 1]) / step : 0);
}

PeopleSpreads::PeopleSpreads(std::span<const PersonSpread> people) {
  std::vector<Seen> seen;
  for (const PersonSpread& person : people)
    if (person.degrees > 0)
      seen.push_back({0.5 * elementary::log(person.variance), 1 / (2 * person.degrees), person.degrees});
  taus_ = grid_of_tau();
  std::vector<std::vector<double>> density(taus_.size());
  double greatest = -INFINITY;
  for (std::size_t t = 0; t < taus_.size(); ++t) {
    const Middle middle = middle_of(seen, taus_[t]);
    Slice slice{taus_[t], {}, {}};
    for (std::size_t k = 0; k < logs; ++k) {
      const double turn = 2 * static_cast<double>(k) / static_cast<double>(logs - 1) - 1;
      const double m = middle.at + log_reach * turn * middle.error;
      double sum = 0;
      for (const Seen& person : seen) sum += elementary::log(std::max(likelihood(person, m, taus_[t]), 1e-300));
      slice.log_sd.push_back(m);
      density[t].push_back(sum);
      greatest = std::max(greatest, sum);
    }
    slices_.push_back(std::move(slice));
  }
  std::vector<double> of_tau;
  for (std::size_t t = 0; t < taus_.size(); ++t) {
    for (double& value : density[t]) value = elementary::exp(value - greatest);
    slices_[t].cumulated = cumulated_weight(slices_[t].log_sd, density[t]);
    const double prior = taus_[t] / tau_scale;
    of_tau.push_back(slices_[t].cumulated.back() * elementary::exp(-0.5 * prior * prior));
  }
  tau_cumulated_ = cumulated_weight(taus_, of_tau);
  constexpr double half = 0.5;
  typical_ = draw(half, half);
}

double PeopleSpreads::Draw::mean_variance() const { return elementary::exp(2 * log_sd + 2 * log_sd_sd * log_sd_sd); }

PeopleSpreads::Draw PeopleSpreads::draw(double tau_share, double log_share) const {
  Draw drawn;
  drawn.log_sd_sd = at_share(taus_, tau_cumulated_, tau_share);
  const auto after =
      static_cast<std::size_t>(std::upper_bound(taus_.begin(), taus_.end(), drawn.log_sd_sd) - taus_.begin());
  const std::size_t high = std::clamp<std::size_t>(after, 1, taus_.size() - 1), low = high - 1;
  const double share = std::clamp((drawn.log_sd_sd - taus_[low]) / (taus_[high] - taus_[low]), 0.0, 1.0);
  const auto in = [&](const Slice& slice) { return at_share(slice.log_sd, slice.cumulated, log_share); };
  drawn.log_sd = (1 - share) * in(slices_[low]) + share * in(slices_[high]);
  return drawn;
}

double PeopleSpreads::shrunken(const PersonSpread& person) const {
  if (!(person.degrees > 0)) return elementary::exp(2 * typical_.log_sd);
  const double of_others = 1 / (typical_.log_sd_sd * typical_.log_sd_sd), of_person = 2 * person.degrees;
  const double log_sd =
      (typical_.log_sd * of_others + 0.5 * elementary::log(person.variance) * of_person) / (of_others + of_person);
  return elementary::exp(2 * log_sd);
}

}  // namespace pulsewright
