#include "whitening.hpp"

#include <array>

namespace pulsewright::beats_stage {
namespace {

// On the noise stress records, 3 to 20 do alike.
constexpr std::size_t order = 6;
// Of the power, so much is added as if the series were a little noisier than it is, so that the prediction stays within bounds; and so much where there is no power at all.
constexpr double regular = 1e-4;
constexpr double least_power = 1e-12;

using Taps = std::array<double, order + 1>;

Taps autocorrelation(const std::vector<float>& series, const SampleSpans& spans) {
  Taps correlation{};
  for (const auto& [first, last] : spans) {
    for (std::size_t lag = 0; lag <= order; ++lag) {
      double sum = 0;
      for (std::size_t i = first + lag; i < last; ++i) sum += static_cast<double>(series[i] * series[i - lag]);
      correlation[lag] += sum;
    }
  }
  correlation[0] = correlation[0] * (1.0 + regular) + least_power;
  return correlation;
}

// The recursion of Levinson and Durbin (Durbin 1960, Rev Inst Int Stat 28:233 [from memory]).
Taps prediction_error(const Taps& correlation) {
  Taps taps{1.0};
  double error = correlation[0];
  for (std::size_t m = 1; m <= order && error > 0; ++m) {
    double sum = correlation[m];
    for (std::size_t k = 1; k < m; ++k) sum += taps[k] * correlation[m - k];
    const double reflection = -sum / error;
    Taps next = taps;
    for (std::size_t k = 1; k < m; ++k) next[k] = taps[k] + reflection * taps[m - k];
    next[m] = reflection;
    taps = next;
    error *= 1.0 - reflection * reflection;
  }
  return taps;
}

}  // namespace

std::vector<float> whitened(const std::vector<float>& series, const SampleSpans& spans) {
  const Taps taps = prediction_error(autocorrelation(series, spans));
  std::vector<float> white(series.size(), 0.0F);
  for (std::size_t lag = 0; lag <= order; ++lag) {
    const auto tap = static_cast<float>(taps[lag]);
    for (std::size_t i = lag; i < series.size(); ++i) white[i] += tap * series[i - lag];
  }
  return white;
}

}  // namespace pulsewright::beats_stage
