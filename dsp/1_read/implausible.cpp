#include "implausible.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "message.hpp"

namespace pulsewright::reading {

namespace {

/// The finest converters in use have 24 bits: no sample of theirs lies further out, in ordinary widths.
constexpr double most_widths = 16777216;
/// So many samples, evenly spread, give the ordinary range.
constexpr std::size_t looked_at_samples = 20000;

/// What a sample has to lie between.
std::pair<float, float> plausible_range(const std::vector<float>& samples) {
  constexpr float largest = std::numeric_limits<float>::max();
  std::vector<float> some;
  const std::size_t step = samples.size() / looked_at_samples + 1;
  for (std::size_t i = 0; i < samples.size(); i += step)
    if (std::isfinite(samples[i])) some.push_back(samples[i]);
  if (some.empty()) return {-largest, largest};
  const auto at = [&](double part) {
    const auto place = some.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(some.size() - 1));
    std::nth_element(some.begin(), place, some.end());
    return static_cast<double>(*place);
  };
  const double low = at(0.01), high = at(0.99);
  if (!(high > low)) return {-largest, largest};
  const double margin = most_widths * (high - low);
  return {static_cast<float>(std::max<double>(low - margin, -largest)),
          static_cast<float>(std::min<double>(high + margin, largest))};
}

}  // namespace

void take_out_implausible(Recording& recording, const std::string& file) {
  for (Channel& channel : recording.channels) {
    const auto [low, high] = plausible_range(channel.samples);
    std::size_t taken = 0, first = 0;
    float value = 0;
    for (std::size_t i = 0; i < channel.samples.size(); ++i) {
      float& sample = channel.samples[i];
      if (!(sample < low || sample > high)) continue;  // a missing one is neither
      if (taken++ == 0) {
        first = i;
        value = sample;
      }
      sample = std::numeric_limits<float>::quiet_NaN();
    }
    if (taken == 0) continue;
    const double at_s = channel.time_of_sample(SampleIndex{static_cast<std::int64_t>(first)}).value();
    recording.warnings.push_back(
        {"implausible_samples",
         message_at({file, std::nullopt, std::nullopt, channel.name}, fmt::format("{:g}", value),
                    fmt::format("{} sample{} beyond anything a sensor gives, the first at {:.3f} s; {} taken as not "
                                "recorded",
                                taken, taken == 1 ? " is" : "s are", at_s, taken == 1 ? "it is" : "they are"))});
  }
}

}  // namespace pulsewright::reading
