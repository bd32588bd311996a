#include "order_choice.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/error.hpp"

namespace pulsewright {

ModelInput model_input(const EvenStretch& series, const AutoregressiveOptions& options) {
  constexpr std::size_t fewest_samples = 8;
  const std::size_t n = series.ms.size();
  const int asked = options.order.value_or(options.highest_order);
  if (n < fewest_samples || asked < 1 || (options.order && static_cast<std::size_t>(asked) > n / 3))
    throw Error{
        ErrorCode::contract,
        fmt::format("autoregressive model: order {} of {} samples; it needs {} samples and an order from 1 to a "
                    "third of their number",
                    asked, n, fewest_samples)};
  ModelInput input;
  input.highest = std::min(static_cast<std::size_t>(asked), n / 3);
  double mean = 0.0;
  for (const double v : series.ms) mean += v;
  mean /= static_cast<double>(n);
  input.x.reserve(n);
  for (const double v : series.ms) input.x.push_back(v - mean);
  return input;
}

}  // namespace pulsewright
