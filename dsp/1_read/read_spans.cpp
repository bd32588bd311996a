#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/read.hpp"
#include "text_cell.hpp"

namespace pulsewright {

std::vector<Span> read_spans(const std::filesystem::path& path, std::optional<Hertz> rate) {
  using namespace reading;
  if (rate && !(rate->value() > 0 && std::isfinite(rate->value())))
    throw Error{ErrorCode::usage, fmt::format("rate {} Hz: a sampling rate is above 0", rate->value())};
  const MappedFile file{path};
  std::string_view rest = file.text();
  std::vector<Span> spans;
  std::int64_t line_number = 0;
  while (!rest.empty()) {
    std::string line{take_line(rest)};
    ++line_number;
    if (trimmed(line).empty() || is_comment(line)) continue;
    std::replace_if(
        line.begin(), line.end(), [](char c) { return c == ',' || c == ';'; }, ' ');
    const auto words = words_of(line);
    const Place place{file.name(), line_number};
    std::vector<double> numbers;
    for (const std::string_view word : words)
      if (const auto number = whole_number(word)) numbers.push_back(*number);
    if (numbers.empty() && spans.empty() && line_number == 1) continue;  // a heading
    if (words.size() != 2 || numbers.size() != 2)
      refuse(place, line,
             rate ? "a span is two numbers, its first and last sample"
                  : "a span is two numbers, its start and end in seconds");
    const double first = numbers[0];
    const double last = numbers[1];
    if (first < 0 || last < first) refuse(place, line, "a span starts at 0 or later and ends after its start");
    // the last sample belongs to the span, so that it ends one sample later
    spans.push_back(rate ? Span{Seconds{first / rate->value()}, Seconds{(last + 1) / rate->value()}}
                         : Span{Seconds{first}, Seconds{last}});
  }
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  return spans;
}

}  // namespace pulsewright
