/// Numbers of an analysis as a report shows them, each with its place in the JSON document.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"

namespace pulsewright {

/// A heart rate in whole beats/min, halves up. In the document it has two decimals.
[[nodiscard]] TracedNumber traced_rate(BeatsPerMinute rate, std::string key);
/// A length of time. In the document it is in seconds with six decimals.
[[nodiscard]] TracedNumber traced_length(std::int64_t us, std::string key, const Words& words);
/// Any number with so many decimals in the document, and so many shown.
[[nodiscard]] TracedNumber traced_number(double value, int decimals, int shown, std::string key, const Words& words);
/// A count.
[[nodiscard]] TracedNumber traced_count(std::int64_t count, std::string key);

/// `<data>`: what is shown, with where it comes from.
[[nodiscard]] Markup traced_markup(const TracedNumber& number);

/// A text of the table of words with numbers put in, each marked with where it comes from.
struct TracedValue {
  const char* name;
  TracedNumber number;
};
[[nodiscard]] Markup traced_sentence(const Words& words, std::string_view key, const std::vector<TracedValue>& values);

}  // namespace pulsewright
