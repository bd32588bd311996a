#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/effort.hpp"

namespace pulsewright {

RateSeries rates_between(const RateSeries& rates, std::optional<Seconds> start, std::optional<Seconds> end) {
  const Span kept{std::max(Seconds{0.0}, start.value_or(Seconds{0.0})),
                  std::min(rates.duration, end.value_or(rates.duration))};
  if (!(kept.start < kept.end))
    throw Error{ErrorCode::usage,
                fmt::format("{}: nothing lies between {:g} and {:g} s; it is {:g} s long", rates.provenance.input,
                            kept.start.value(), end.value_or(rates.duration).value(), rates.duration.value())};
  RateSeries part = rates;
  part.duration = kept.length();
  part.windows.clear();
  constexpr Seconds rounding{1e-6};
  for (RateWindow window : rates.windows) {
    if (window.window.start + rounding < kept.start || kept.end + rounding < window.window.end) continue;
    window.window = {window.window.start - kept.start, window.window.end - kept.start};
    part.windows.push_back(window);
  }
  return part;
}

}  // namespace pulsewright
