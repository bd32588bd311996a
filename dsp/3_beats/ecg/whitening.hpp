/// A filter that makes the noise of some stretches white.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace pulsewright::beats_stage {

/// Samples [first, last) of a series.
using SampleSpans = std::vector<std::pair<std::size_t, std::size_t>>;

/// The error of predicting each sample of a series from the six before it, by the weights that predict best within the given spans: what is left of their spectrum there is flat. One series as long as the first.
[[nodiscard]] std::vector<float> whitened(const std::vector<float>& series, const SampleSpans& spans);

}  // namespace pulsewright::beats_stage
