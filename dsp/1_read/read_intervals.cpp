#include <fmt/format.h>

#include "hash.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/read.hpp"
#include "text_cell.hpp"

namespace pulsewright {

namespace {

using namespace reading;

/// Cuts a line at blanks, tabs, semicolons and commas.
std::vector<std::string_view> values_in(std::string_view line) {
  constexpr std::string_view marks = " \t,;\r";
  std::vector<std::string_view> values;
  while (true) {
    const std::size_t first = line.find_first_not_of(marks);
    if (first == std::string_view::npos) return values;
    const std::size_t end = std::min(line.find_first_of(marks, first), line.size());
    values.push_back(line.substr(first, end - first));
    line.remove_prefix(end);
  }
}

}  // namespace

BeatTrain read_intervals(const std::filesystem::path& path, IntervalUnit unit) {
  const MappedFile file{path};
  std::string_view rest = file.text();
  if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
  const double seconds = unit == IntervalUnit::milliseconds ? 1e-3 : 1.0;
  BeatTrain train;
  Beat beat;
  beat.confidence = 1;
  double sum = 0;
  std::int64_t line_number = 0;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++line_number;
    if (is_comment(line)) continue;
    for (const std::string_view word : values_in(line)) {
      const auto value = whole_number(word);
      if (!value && train.candidates.empty() && line_number == 1) break;  // a heading
      if (!value) refuse({file.name(), line_number}, word, "an interval is a number");
      if (*value <= 0) refuse({file.name(), line_number}, word, "an interval is longer than 0");
      if (train.candidates.empty()) train.candidates.push_back(beat);  // the first beat, at 0 s
      sum += *value;
      beat.time = Seconds{sum * seconds};
      train.candidates.push_back(beat);
    }
  }
  if (train.candidates.empty()) refuse({file.name()}, "holds no intervals");
  train.duration = train.candidates.back().time;
  train.source = BeatSource::intervals;
  train.provenance = {path.filename().string(), "intervals", sha256_of(file.bytes()),
                      unit == IntervalUnit::milliseconds ? R"({"unit":"ms"})" : R"({"unit":"s"})", version()};
  return train;
}

}  // namespace pulsewright
