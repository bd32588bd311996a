#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paired_windows.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright {
namespace {

std::optional<double> mean_absolute_error(const std::vector<PairedValue>& pairs) {
  if (pairs.empty()) return std::nullopt;
  double sum = 0;
  for (const PairedValue& pair : pairs) sum += std::abs(pair.test - pair.reference);
  return sum / static_cast<double>(pairs.size());
}

std::optional<double> bias_of(const std::vector<PairedValue>& pairs) {
  if (pairs.empty()) return std::nullopt;
  double sum = 0;
  for (const PairedValue& pair : pairs) sum += pair.test - pair.reference;
  return sum / static_cast<double>(pairs.size());
}

bool has_rate(const RateSeries& series) {
  return std::any_of(series.windows.begin(), series.windows.end(),
                     [](const RateWindow& w) { return w.rate.has_value(); });
}

/// Where the record stops, and why; nothing when it goes all the way.
std::optional<std::string> fault_of(const ComparedRecord& record, const StudyOptions& options) {
  if (record.counts.reference_answered == 0)
    return "no window of the longer kind is filled by rates of the other side; are times in seconds?";
  if (record.counts.common == 0) return "the two have no time in common";
  if (record.pairs.size() < options.fewest_pairs)
    return fmt::format("{} window{} with a rate on both sides; {} are needed", record.pairs.size(),
                       record.pairs.size() == 1 ? "" : "s", options.fewest_pairs);
  return std::nullopt;
}

}  // namespace

std::optional<double> WindowCounts::missing_percent() const {
  if (common == 0) return std::nullopt;
  return 100.0 * static_cast<double>(common - answered) / static_cast<double>(common);
}

const char* to_string(FlowStage stage) {
  switch (stage) {
    case FlowStage::recorded: return "recorded";
    case FlowStage::readable: return "readable";
    case FlowStage::aligned: return "aligned";
    case FlowStage::analysed: return "analysed";
  }
  return "recorded";
}

ComparedRecord compare_record(const StudyRecord& record, const StudyOptions& options) {
  ComparedRecord result;
  result.facts = record.facts;
  result.one_clock = record.one_clock;
  for (const RateSide* side : {&record.reference, &record.test}) {
    if (side->beats)
      result.warnings.insert(result.warnings.end(), side->beats->warnings.begin(), side->beats->warnings.end());
    result.warnings.insert(result.warnings.end(), side->rates.warnings.begin(), side->rates.warnings.end());
  }
  const auto stop = [&result](std::string why) {
    result.left_out = std::move(why);
    return result;
  };
  if (!record.unreadable.empty()) return stop(record.unreadable);
  if (!has_rate(record.reference.rates)) return stop("the reference has no rate in any window");
  const PairedWindows unaligned = pair_windows(record.reference.rates, record.test.rates, Alignment{});
  result.counts = unaligned.counts;
  if (!has_rate(record.test.rates)) return stop("the test has no rate in any window");
  result.reached = FlowStage::readable;
  result.before = unaligned.pairs;
  result.before_mean_absolute_error = mean_absolute_error(result.before);
  if (record.one_clock)
    result.alignment.note = "both sides come from one recording, with one clock";
  else
    result.alignment = align(record.reference, record.test, options.alignment, record.by_clocks);
  if (result.alignment.refused && !options.keep_unaligned) return stop("not aligned: " + result.alignment.note);
  result.reached = FlowStage::aligned;

  const bool aligned = result.alignment.applied != AlignmentSteps::none;
  PairedWindows paired =
      aligned ? pair_windows(record.reference.rates, record.test.rates, result.alignment) : unaligned;
  result.pairs = std::move(paired.pairs);
  result.counts = paired.counts;
  result.common = paired.common;
  result.mean_absolute_error = mean_absolute_error(result.pairs);
  if (!aligned && result.alignment.found_offset) {
    Alignment found;
    found.offset = *result.alignment.found_offset;
    result.found_mean_absolute_error =
        mean_absolute_error(pair_windows(record.reference.rates, record.test.rates, found).pairs);
  }
  result.bias = bias_of(result.pairs);
  if (auto fault = fault_of(result, options)) return stop(std::move(*fault));
  result.reached = FlowStage::analysed;
  return result;
}

}  // namespace pulsewright
