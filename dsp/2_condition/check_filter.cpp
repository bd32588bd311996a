#include "check_filter.hpp"

#include <fmt/format.h>

#include <cmath>

namespace pulsewright::condition_stage {

namespace {
/// Highest order of the low-pass prototype; a steeper filter is never needed here and would ring for seconds.
constexpr int highest_order = 12;
}  // namespace

void check_rate(Hertz rate, const std::string& what) {
  if (!(rate.value() > 0.0) || !std::isfinite(rate.value())) {
    throw Error{ErrorCode::contract,
                fmt::format("{}: the sampling rate is {} Hz, it must be positive", what, rate.value())};
  }
}

void check_edge(Hertz edge, Hertz rate, const std::string& what) {
  if (!(edge.value() > 0.0) || !(edge.value() < rate.value() / 2.0)) {
    throw Error{ErrorCode::contract,
                fmt::format("{}: the edge is {} Hz, it must lie strictly between 0 and half the sampling rate, {} Hz",
                            what, edge.value(), rate.value() / 2.0)};
  }
}

void check_order(int order, const std::string& what) {
  if (order < 1 || order > highest_order) {
    throw Error{ErrorCode::contract,
                fmt::format("{}: the order is {}, it must be 1 to {}", what, order, highest_order)};
  }
}

}  // namespace pulsewright::condition_stage
