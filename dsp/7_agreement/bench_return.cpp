#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "pulsewright/bench_test.hpp"

namespace pulsewright {
namespace {

/// A course on an even grid that begins at 0 s; what is not known is 0, the mean.
struct EvenSamples {
  double rate_hz = 0;
  std::vector<double> values;
};

/// Means over the samples of each step of the grid, less the mean of all.
EvenSamples on_grid(const Channel& channel, double rate_hz) {
  EvenSamples grid{rate_hz, {}};
  std::vector<double> counts;
  double sum = 0, count = 0;
  for (std::size_t i = 0; i < channel.samples.size(); ++i) {
    const auto value = static_cast<double>(channel.samples[i]);
    const double time = channel.time_of_sample(SampleIndex{static_cast<std::int64_t>(i)}).value();
    if (std::isnan(value) || time < 0) continue;
    constexpr double rounding = 1e-6;  // a time on the edge of a step belongs to it
    const auto at = static_cast<std::size_t>(time * rate_hz + rounding);
    if (at >= grid.values.size()) {
      grid.values.resize(at + 1, 0.0);
      counts.resize(at + 1, 0.0);
    }
    grid.values[at] += value;
    counts[at] += 1;
    sum += value;
    count += 1;
  }
  for (std::size_t i = 0; i < counts.size(); ++i)
    grid.values[i] = counts[i] > 0 ? grid.values[i] / counts[i] - sum / count : 0.0;
  return grid;
}

EvenSamples on_grid(const BenchWave& wave, double rate_hz) {
  constexpr double sampled_hz = 4000;
  Channel channel;
  channel.rate = Hertz{sampled_hz};
  channel.samples = bench_samples(wave, channel.rate);
  return on_grid(channel, rate_hz);
}

/// Sums over the time in which both are there, `returned` read `lag` steps later.
struct Overlap {
  double xx = 0, yy = 0, xy = 0;
};
Overlap overlap_at(const std::vector<double>& wave, const std::vector<double>& returned, std::int64_t lag) {
  Overlap sums;
  const auto size = static_cast<std::int64_t>(returned.size());
  const std::int64_t from = std::max<std::int64_t>(0, -lag);
  const std::int64_t to = std::min(static_cast<std::int64_t>(wave.size()), size - lag);
  for (std::int64_t i = from; i < to; ++i) {
    const double x = wave[static_cast<std::size_t>(i)], y = returned[static_cast<std::size_t>(i + lag)];
    sums.xx += x * x;
    sums.yy += y * y;
    sums.xy += x * y;
  }
  return sums;
}

/// The lag in [from, to] with the largest product, either way up; of lags whose products differ by no more than the share `ties` from it, the shortest. Products are not divided by the
/// overlap: of a steady rhythm the whole one counts.
std::int64_t best_lag(const EvenSamples& wave, const EvenSamples& returned, std::int64_t from, std::int64_t to,
                      double ties) {
  std::vector<double> products;
  products.reserve(static_cast<std::size_t>(std::max<std::int64_t>(0, to - from + 1)));
  for (std::int64_t lag = from; lag <= to; ++lag)
    products.push_back(std::abs(overlap_at(wave.values, returned.values, lag).xy));
  const double least = (1 - ties) * *std::max_element(products.begin(), products.end());
  std::optional<std::int64_t> best;
  for (std::int64_t lag = from; lag <= to; ++lag)
    if (products[static_cast<std::size_t>(lag - from)] >= least && (!best || std::abs(lag) < std::abs(*best)))
      best = lag;
  return *best;
}

}  // namespace

std::optional<BenchReturn> find_wave(const BenchWave& wave, const Channel& returned) {
  constexpr double coarse_hz = 50, finest_hz = 500, least_common_s = 20, around_s = 0.06;
  constexpr double same_product = 1e-3;  // less than one complex of a minute: they differ by whole periods
  const double fine_hz = std::min(finest_hz, returned.rate.value());
  if (!(fine_hz >= coarse_hz)) return std::nullopt;
  const EvenSamples wave_coarse = on_grid(wave, coarse_hz), back_coarse = on_grid(returned, coarse_hz);
  const auto least = static_cast<std::int64_t>(least_common_s * coarse_hz);
  const auto sent = static_cast<std::int64_t>(wave_coarse.values.size());
  const auto came = static_cast<std::int64_t>(back_coarse.values.size());
  if (came < least) return std::nullopt;
  const double near_s =
      static_cast<double>(best_lag(wave_coarse, back_coarse, least - sent, came - least, same_product)) / coarse_hz;
  const EvenSamples wave_fine = on_grid(wave, fine_hz), back_fine = on_grid(returned, fine_hz);
  const std::int64_t lag = best_lag(wave_fine, back_fine, std::lround((near_s - around_s) * fine_hz),
                                    std::lround((near_s + around_s) * fine_hz), 0.0);
  const Overlap sums = overlap_at(wave_fine.values, back_fine.values, lag);
  if (!(sums.xx > 0) || !(sums.yy > 0)) return std::nullopt;
  return BenchReturn{sums.xy / sums.xx, Seconds{static_cast<double>(lag) / fine_hz},
                     sums.xy / std::sqrt(sums.xx * sums.yy)};
}

}  // namespace pulsewright
