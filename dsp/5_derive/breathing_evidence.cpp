#include "breathing_evidence.hpp"

#include <algorithm>
#include <cmath>

#include "dense_solve.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/breathing.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

constexpr Hertz grid_rate{4.0};
/// Bins lie this close or closer: half a breath a minute.
constexpr Hertz widest_bin{0.5 / 60.0};
constexpr std::size_t fewest_beats = 8;
/// Beats up to this far outside a window help to interpolate its ends.
constexpr double margin_s = 3.0;
/// What swings less than this share of its size is a rounding error.
constexpr double least_swing = 1e-6;
constexpr double outlier_deviations = 4.0;
constexpr double mad_to_sd = 1.4826;  // of a normal variable
// Set on the development recordings of two open sets (README).
/// Weight of harmonics, and the share that any rate has by chance.
constexpr double harmonic_weight = 0.25;
constexpr double share_by_chance = 0.01;
/// How much of the evidence counts: windows overlap, and series of one heart resemble each other.
/// Powers are weighed by frequency to this power: what is not breathing falls with it.
constexpr double tilt = 0.5;
constexpr double independence = 0.5;

std::size_t samples_of(Seconds window) {
  return static_cast<std::size_t>(std::lround(window.value() * grid_rate.value()));
}

std::size_t padded_length(Seconds window) {
  std::size_t length = 2;
  while (length < samples_of(window) || grid_rate.value() / static_cast<double>(length) > widest_bin.value())
    length *= 2;
  return length;
}

double median_in(std::vector<double> values) { return upper_median(std::span(values)); }

void limit_outliers(std::vector<double>& values) {
  const double centre = median_in(values);
  std::vector<double> away(values.size());
  std::transform(values.begin(), values.end(), away.begin(), [&](double v) { return std::abs(v - centre); });
  const double reach = outlier_deviations * mad_to_sd * median_in(std::move(away));
  for (double& v : values) v = std::clamp(v, centre - reach, centre + reach);
}

void remove_quadratic_trend(std::vector<double>& values) {
  const auto count = static_cast<Eigen::Index>(values.size());
  const Eigen::ArrayXd x = Eigen::ArrayXd::LinSpaced(count, -1, 1);
  Eigen::MatrixXd powers(count, 3);
  powers << Eigen::VectorXd::Ones(count), x.matrix(), x.square().matrix();
  Eigen::Map<Eigen::VectorXd> y(values.data(), count);
  y -= powers * least_squares(powers, y);
}

}  // namespace

BreathingEvidence::BreathingEvidence(Seconds window)
    : grid_(samples_of(window)), spectrum_(samples_of(window), padded_length(window)) {
  const double bin = spectrum_.bin_width(grid_rate).value();
  first_bin_ = static_cast<std::size_t>(std::ceil(slowest_breathing.value() / bin));
  for (std::size_t b = first_bin_; static_cast<double>(b) * bin <= fastest_breathing.value(); ++b)
    rates_.emplace_back(static_cast<double>(b) * bin);
}

bool BreathingEvidence::add(const BeatSeries& series, double start_s, std::vector<double>& evidence) {
  const double end_s = start_s + static_cast<double>(grid_.size()) / grid_rate.value();
  const auto from = std::lower_bound(series.time_s.begin(), series.time_s.end(), start_s - margin_s);
  const auto to = std::upper_bound(from, series.time_s.end(), end_s + margin_s);
  if (static_cast<std::size_t>(to - from) < fewest_beats) return false;
  const double* times = series.time_s.data() + (from - series.time_s.begin());
  const double* values = series.value.data() + (from - series.time_s.begin());
  const auto count = static_cast<std::size_t>(to - from);
  std::size_t right = 0;
  for (std::size_t i = 0; i < grid_.size(); ++i) {
    const double t = start_s + static_cast<double>(i) / grid_rate.value();
    while (right < count && times[right] < t) ++right;
    if (right == 0 || right == count) {
      grid_[i] = values[right == 0 ? 0 : count - 1];
    } else {
      const double part = (t - times[right - 1]) / (times[right] - times[right - 1]);
      grid_[i] = values[right - 1] + part * (values[right] - values[right - 1]);
    }
  }
  const auto largest = [this] {
    double most = 0;
    for (const double v : grid_) most = std::max(most, std::abs(v));
    return most;
  };
  const double size = largest();
  limit_outliers(grid_);
  remove_quadratic_trend(grid_);
  if (!(largest() > least_swing * size)) return false;
  const std::span<const double> power = spectrum_.of(grid_);
  const auto weighed = [&](std::size_t bin) {
    return bin < power.size() ? power[bin] * elementary::pow(static_cast<double>(bin), tilt) : 0.0;
  };
  double all = 0;
  for (std::size_t bin = first_bin_; bin < power.size(); ++bin) all += weighed(bin);
  if (!(all > 0)) return false;
  for (std::size_t k = 0; k < rates_.size(); ++k) {
    const auto share = [&](std::size_t bin) { return weighed(bin) / all; };
    const std::size_t bin = first_bin_ + k;
    const double here = share(bin);
    const double harmonics = std::sqrt(here * share(2 * bin)) + std::sqrt(here * share(3 * bin));
    evidence[k] += elementary::log(here + harmonic_weight * harmonics + share_by_chance);
  }
  return true;
}

std::optional<std::vector<double>> BreathingEvidence::of(std::span<const BeatSeries> all, double start_s) {
  std::vector<double> evidence(rates_.size(), 0.0);
  int speaking = 0;
  for (const BeatSeries& series : all) speaking += add(series, start_s, evidence);
  if (speaking == 0) return std::nullopt;
  for (double& e : evidence) e *= independence / static_cast<double>(all.size());
  return evidence;
}

}  // namespace pulsewright
