#include <fmt/format.h>

#include "hash.hpp"
#include "interval_guess.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/read.hpp"
#include "table_content.hpp"
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

/// A heading of several columns belongs to a table, not to a bare list.
void refuse_table(std::string_view heading, const Place& place) {
  std::vector<std::string_view> names;
  const char delimiter = heading.find(';') != std::string_view::npos    ? ';'
                         : heading.find('\t') != std::string_view::npos ? '\t'
                                                                        : ',';
  for (const Cell& cell : cells_of(heading, delimiter)) names.push_back(cell.text);
  const TableContent content = content_of(names);
  if (names.size() < 2 && content == TableContent::samples) return;
  refuse(place, heading,
         std::string{content == TableContent::samples ? "has several columns; a bare list of intervals has one"
                                                      : advice_for(content)});
}

/// In the wrong unit every rate would be a thousand times too high or too low.
void refuse_other_unit(const std::vector<double>& values, IntervalUnit unit, const std::string& file) {
  const char* asked = unit == IntervalUnit::milliseconds ? "ms" : "s";
  const std::optional<IntervalGuess> guess = guess_intervals(values);
  if (!guess || std::string_view{guess->unit} == asked) return;
  const double seconds = unit == IntervalUnit::milliseconds ? guess->median / 1000 : guess->median;
  throw Error{
      ErrorCode::usage,
      message_at({file}, fmt::format("values around {:.4g} taken as {} would be {:.4g} beats/min; they look like "
                                     "{}: give --unit {}",
                                     guess->median, asked, 60 / seconds, guess->unit, guess->unit))};
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
  std::vector<double> values;
  std::int64_t line_number = 0;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++line_number;
    if (is_comment(line)) continue;
    for (const std::string_view word : values_in(line)) {
      const auto value = whole_number(word);
      if (!value && train.candidates.empty() && line_number == 1) {  // a heading
        refuse_table(line, {file.name(), line_number});
        break;
      }
      if (!value) refuse({file.name(), line_number}, word, "an interval is a number");
      if (*value <= 0) refuse({file.name(), line_number}, word, "an interval is longer than 0");
      if (train.candidates.empty()) train.candidates.push_back(beat);  // the first beat, at 0 s
      sum += *value;
      values.push_back(*value);
      beat.time = Seconds{sum * seconds};
      train.candidates.push_back(beat);
    }
  }
  if (train.candidates.empty()) refuse({file.name()}, "holds no intervals");
  refuse_other_unit(values, unit, file.name());
  train.duration = train.candidates.back().time;
  train.source = BeatSource::intervals;
  train.provenance = {path.filename().string(), "intervals", sha256_of(file.bytes()),
                      unit == IntervalUnit::milliseconds ? R"({"unit":"ms"})" : R"({"unit":"s"})", version()};
  return train;
}

}  // namespace pulsewright
