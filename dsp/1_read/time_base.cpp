#include "time_base.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "message.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright::reading {

namespace {

/// Times off the grid by less than this share of a step do not matter.
constexpr double even_step = 0.01;
/// A longer step than this many medians is a gap.
constexpr double gap_step = 1.5;
/// A nominal rate is rounded when that changes it by less than this share.
constexpr double near_round = 1e-3;

/// Rows that have the time of the row before.
struct Repeated {
  std::size_t rows = 0;
  std::size_t first = 0;
};

/// Spreads rows that share a time evenly up to the next time.
Repeated spread_repeated(std::vector<double>& times) {
  Repeated repeated;
  double last_step = 0;
  for (std::size_t i = 0; i < times.size();) {
    std::size_t end = i + 1;
    while (end < times.size() && times[end] <= times[i]) ++end;
    const std::size_t run = end - i;
    const double start = times[i];
    const double step = end < times.size() ? (times[end] - start) / static_cast<double>(run) : last_step;
    if (run > 1) {
      if (repeated.rows == 0) repeated.first = i + 1;
      repeated.rows += run - 1;
      for (std::size_t k = 1; k < run; ++k) times[i + k] = start + step * static_cast<double>(k);
    }
    last_step = step;
    i = end;
  }
  return repeated;
}

double rounding_of(double last_time) { return 1e-9 + 1e-12 * last_time; }

/// Whether all times fit an even grid of step `period` within `tolerance`.
bool fits_grid(const std::vector<double>& times, double period, double tolerance) {
  double lowest = 0;
  double highest = 0;
  for (std::size_t i = 0; i < times.size(); ++i) {
    const double off = times[i] - static_cast<double>(i) * period;
    lowest = std::min(lowest, off);
    highest = std::max(highest, off);
  }
  return highest - lowest <= 2 * tolerance;
}

/// The roundest rate near `1 / period` that ends within `tolerance` of the last time.
double round_rate(double period, double steps, double tolerance) {
  const double rate = 1 / period;
  for (const double parts : {1.0, 2.0, 4.0, 10.0, 100.0, 1000.0}) {
    const double candidate = std::round(rate * parts) / parts;
    if (candidate > 0 && std::abs(steps * (1 / candidate - period)) <= tolerance) return candidate;
  }
  return rate;
}

std::optional<double> uniform_rate(const std::vector<double>& times, double resolution) {
  const auto steps = static_cast<double>(times.size() - 1);
  const double period = times.back() / steps;
  const double rounding = rounding_of(times.back());
  const double tolerance = std::max(resolution, even_step * period) + rounding;
  if (!fits_grid(times, period, tolerance)) return std::nullopt;
  // a missing row shows as one long step even where the grid forgives it
  const double longest = period + std::max(0.99 * resolution, 2 * even_step * period) + rounding;
  for (std::size_t i = 1; i < times.size(); ++i)
    if (times[i] - times[i - 1] > longest) return std::nullopt;
  const double rate = round_rate(period, steps, tolerance);
  return fits_grid(times, 1 / rate, tolerance) ? rate : 1 / period;
}

/// Describes uneven times, and gives their nominal rate.
double describe_uneven(const std::vector<double>& times, double resolution, const RowLines& lines,
                       const std::string& file, Warnings& warnings) {
  std::vector<double> steps;
  steps.reserve(times.size() - 1);
  for (std::size_t i = 1; i < times.size(); ++i) steps.push_back(times[i] - times[i - 1]);
  std::vector<double> sorted = steps;
  const double median = upper_median(std::span(sorted));
  double sum = 0;
  std::size_t regular = 0;
  std::size_t gaps = 0;
  std::size_t longest_gap = 0;
  double lost = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (steps[i] <= gap_step * median) {
      sum += steps[i];
      ++regular;
      continue;
    }
    if (gaps == 0 || steps[i] > steps[longest_gap]) longest_gap = i;
    ++gaps;
    lost += steps[i] - median;
  }
  const double mean = regular > 0 && sum > 0 ? sum / static_cast<double>(regular) : median;
  if (gaps > 0)
    warnings.push_back(
        {"clock_gaps",
         message_at({file, lines.line_of(static_cast<std::int64_t>(longest_gap + 1))},
                    fmt::format("{} gap{} in time, {:.3f} s in all; the longest, {:.3f} s, ends "
                                "here, at {:.3f} s",
                                gaps, gaps == 1 ? "" : "s", lost, steps[longest_gap], times[longest_gap + 1]))});
  double squares = 0;
  std::size_t worst = 0;
  double worst_off = -1;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (steps[i] > gap_step * median) continue;
    const double off = std::abs(steps[i] - mean);
    squares += off * off;
    if (off > worst_off) {
      worst_off = off;
      worst = i;
    }
  }
  if (worst_off > std::max(resolution, even_step * mean) + rounding_of(times.back()))
    warnings.push_back(
        {"clock_jitter",
         message_at({file, lines.line_of(static_cast<std::int64_t>(worst + 1))},
                    fmt::format("the clock is uneven: steps of {:.3f} ms vary by {:.3f} ms (RMS), at most {:.3f} "
                                "ms here, at {:.3f} s; the times in the file are used",
                                mean * 1000, std::sqrt(squares / static_cast<double>(regular)) * 1000, worst_off * 1000,
                                times[worst + 1]))});
  const double rate = 1 / mean;
  for (const double parts : {1.0, 10.0}) {
    const double candidate = std::round(rate * parts) / parts;
    if (std::abs(candidate - rate) < near_round * rate) return candidate;
  }
  return rate;
}

}  // namespace

TimeBase find_time_base(std::vector<double> times, double resolution, const RowLines& lines, const std::string& file) {
  TimeBase base;
  if (times.back() <= times.front()) refuse({file, lines.line_of(0)}, "time never advances from this row on");
  const Repeated repeated = spread_repeated(times);
  const auto rate = uniform_rate(times, resolution);
  if (repeated.rows > 0) {
    const Place place{file, lines.line_of(static_cast<std::int64_t>(repeated.first))};
    if (rate)
      base.warnings.push_back(
          {"times_coarse",
           message_at(place, fmt::format("{} rows, the first here, show the same time as the row before; the "
                                         "times are written too coarsely, and an even {:.6g} Hz fits them all",
                                         repeated.rows, *rate))});
    else
      base.warnings.push_back(
          {"times_repeated",
           message_at(place, fmt::format("{} rows, the first here, show the same time as the row before; "
                                         "they are spread evenly up to the next time",
                                         repeated.rows))});
  }
  if (rate) {
    base.rate = *rate;
    return base;
  }
  base.rate = describe_uneven(times, resolution, lines, file, base.warnings);
  for (std::size_t i = 1; i < times.size(); ++i)
    if (times[i] <= times[i - 1]) times[i] = std::nextafter(times[i - 1], INFINITY);
  base.times = std::move(times);
  return base;
}

}  // namespace pulsewright::reading
