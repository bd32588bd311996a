#include "session_rates.hpp"

#include <fmt/format.h>

#include "pulsewright/read.hpp"

namespace pulsewright::program {

RateSeries session_rates(const std::string& file, const std::string& column) {
  RateSeries rates = read_rates(file, column);
  const Seconds first = rates.windows.front().window.start;
  // No session begins so long after the start of its recording.
  if (first < longest_list) return rates;
  for (RateWindow& window : rates.windows) window.window = {window.window.start - first, window.window.end - first};
  rates.duration = rates.duration - first;
  rates.warnings.push_back(
      {"counted_from_first_row",
       fmt::format("{}: times begin at {:.15g} s; they are counted from there", file, first.value())});
  return rates;
}

}  // namespace pulsewright::program
