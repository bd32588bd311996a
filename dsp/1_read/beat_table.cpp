#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "annotation_bytes.hpp"
#include "beat_files.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/median.hpp"
#include "table_content.hpp"
#include "text_cell.hpp"

namespace pulsewright::reading {

namespace {

/// Where the wanted columns are.
struct Columns {
  std::optional<std::size_t> time, sample, confidence, verdict, label;
};

std::optional<std::size_t> position_of(const std::vector<std::string_view>& header, std::string_view name) {
  for (std::size_t i = 0; i < header.size(); ++i)
    if (lower_case(header[i]) == name) return i;
  return std::nullopt;
}

template <class Enum>
Enum word_or_refuse(std::string_view word, std::initializer_list<Enum> all, const Place& place) {
  std::string known;
  for (const Enum e : all) {
    if (word == to_string(e)) return e;
    known += (known.empty() ? "" : ", ") + std::string{to_string(e)};
  }
  refuse(place, word, "is none of " + known);
}

BeatVerdict verdict_in(std::string_view word, const Place& place) {
  using enum BeatVerdict;
  return word_or_refuse(word, {accepted, too_soon, repolarisation, weak, reflected, unreadable, off_rhythm}, place);
}

BeatLabel label_in(std::string_view word, const Place& place) {
  using enum BeatLabel;
  return word_or_refuse(word, {unlabelled, normal, supraventricular, ventricular, fusion, paced, unclassifiable},
                        place);
}

double number_or_refuse(std::string_view cell, bool decimal_comma, const Place& place, const char* rule) {
  const auto value = number_in(cell, decimal_comma);
  if (!value) refuse(place, cell, rule);
  return *value;
}

/// Fewer times than this do not show what they are.
constexpr std::size_t fewest_times = 10;
/// No heart beats faster: 300 beats/min (ours).
constexpr double shortest_interval_s = 0.2;
/// Steps are equal that differ by less than this share.
constexpr double same_step = 0.01;

/// Refuses the times of samples, or of a curve of rates, where those of beats should be.
void require_beat_times(const std::vector<Beat>& beats, bool has_rates, const std::string& file) {
  std::vector<double> steps;
  const Beat* last = nullptr;
  for (const Beat& beat : beats) {
    if (beat.verdict != BeatVerdict::accepted) continue;
    if (last != nullptr) steps.push_back((beat.time - last->time).value());
    last = &beat;
  }
  if (steps.size() + 1 < fewest_times) return;
  const auto [least, most] = std::minmax_element(steps.begin(), steps.end());
  const bool even = *most - *least <= same_step * *most;
  if (even && has_rates)
    refuse({file}, fmt::format("is a curve of heart rates every {:.4g} s, not a list of beats", *most));
  const double middle = upper_median(std::span(steps));
  if (middle < shortest_interval_s)
    refuse({file},
           fmt::format("is no list of beats: its times are {:.4g} s apart, faster than any heart (0.2 s); it looks "
                       "like a recording, in which beats have to be found first",
                       middle));
}

}  // namespace

BeatFile beats_of_table(std::string_view text, const std::string& file, std::optional<Hertz> rate) {
  BeatFile result;
  std::string_view rest = text;
  std::int64_t line_number = 0;
  std::optional<Columns> columns;
  bool has_rates = false;
  char delimiter = ',';
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++line_number;
    if (trimmed(line).empty() || is_comment(line)) continue;
    const Place place{file, line_number};
    if (!columns) {
      delimiter = line.find(';') != std::string_view::npos    ? ';'
                  : line.find('\t') != std::string_view::npos ? '\t'
                                                              : ',';
      std::vector<std::string_view> header;
      for (const Cell& cell : cells_of(line, delimiter)) header.push_back(cell.text);
      columns = Columns{position_of(header, "time_s"), position_of(header, "sample"), position_of(header, "confidence"),
                        position_of(header, "verdict"), position_of(header, "label")};
      has_rates = std::any_of(header.begin(), header.end(),
                              [](std::string_view name) { return name == "bpm" || name.ends_with("_bpm"); });
      if (!columns->time && !columns->sample) {
        const TableContent content = content_of(header);
        const std::string rule = "a table of beats has a column time_s or sample";
        refuse(place, line, content == TableContent::samples ? rule : rule + "; this " + advice_for(content));
      }
      if (!columns->time && !rate)
        throw Error{ErrorCode::usage, message_at(place, "holds sample numbers without times; state the rate")};
      continue;
    }
    const auto cells = cells_of(line, delimiter);
    const auto cell = [&](const std::optional<std::size_t>& column) {
      return column && *column < cells.size() ? cells[*column].text : std::string_view{};
    };
    const bool comma = delimiter != ',';
    Beat beat;
    if (columns->time) {
      beat.time = Seconds{number_or_refuse(cell(columns->time), comma, {file, line_number, std::nullopt, "time_s"},
                                           "a beat's time is a number of seconds")};
      if (beat.time.value() < 0)
        refuse({file, line_number, std::nullopt, "time_s"}, cell(columns->time), "a beat lies at 0 s or later");
    }
    if (const auto sample = cell(columns->sample); !sample.empty()) {
      const auto number = whole_integer(sample);
      if (!number || *number < 0)
        refuse({file, line_number, std::nullopt, "sample"}, sample, "a sample number is 0 or more");
      beat.sample = SampleIndex{*number};
      if (!columns->time) beat.time = time_of(beat.sample, *rate);
    } else if (!columns->time) {
      refuse({file, line_number, std::nullopt, "sample"}, sample, "a sample number is 0 or more");
    } else if (rate) {
      beat.sample = nearest_sample(beat.time, *rate);
    }
    beat.confidence = 1;
    if (const auto confidence = cell(columns->confidence); !confidence.empty())
      beat.confidence = number_or_refuse(confidence, comma, {file, line_number, std::nullopt, "confidence"},
                                         "a confidence is a number");
    if (const auto verdict = cell(columns->verdict); !verdict.empty())
      beat.verdict = verdict_in(verdict, {file, line_number, std::nullopt, "verdict"});
    if (const auto label = cell(columns->label); !label.empty())
      beat.label = label_in(label, {file, line_number, std::nullopt, "label"});
    result.beats.candidates.push_back(beat);
  }
  if (!columns) refuse({file}, "holds no table of beats");
  if (columns->time) require_beat_times(result.beats.candidates, has_rates, file);
  result.beats.provenance.format = "beat-table";
  return result;
}

std::vector<Annotation> annotations_of_listing(std::string_view text, const std::string& file,
                                               std::optional<double>& stated_rate) {
  std::vector<Annotation> annotations;
  std::string_view rest = text;
  std::int64_t line_number = 0;
  bool in_rows = false;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++line_number;
    const auto words = words_of(line);
    if (words.empty()) continue;
    if (!in_rows) {
      in_rows = true;
      continue;  // the heading
    }
    const Place place{file, line_number};
    if (words.size() < 2) refuse(place, line, "a row of a listing has a time, a sample number and a type");
    const auto sample = whole_integer(words[1]);
    if (!sample) refuse({file, line_number, std::nullopt, "Sample #"}, words[1], "a sample number is a whole number");
    // a row whose type is blank has one word less; it is no annotation of ours
    const int code = words.size() > 2 ? code_of_symbol(words[2]) : 0;
    if (const auto note = line.find("time resolution:"); note != std::string_view::npos && code == comment_code) {
      const auto value = whole_number(trimmed(line.substr(note + 16)));
      if (!value || *value <= 0) refuse(place, line.substr(note), "the time resolution is a number above 0 Hz");
      stated_rate = *value;
    }
    if (code != 0) annotations.push_back({SampleIndex{*sample}, code, 0, 0, 0, {}});
  }
  return annotations;
}

BeatFile beats_of_sample_numbers(std::string_view text, const std::string& file, Hertz rate) {
  BeatFile result;
  std::string_view rest = text;
  std::int64_t line_number = 0;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++line_number;
    if (is_comment(line)) continue;
    for (const std::string_view word : words_of(line)) {
      const auto number = number_in(word, false);  // some lists write 147.0
      if (!number || *number < 0 || *number != std::floor(*number) || *number > 1e15)
        refuse({file, line_number}, word, "a sample number is a whole number from 0");
      Beat beat;
      beat.sample = SampleIndex{static_cast<std::int64_t>(*number)};
      beat.time = time_of(beat.sample, rate);
      beat.confidence = 1;
      result.beats.candidates.push_back(beat);
    }
  }
  const auto& beats = result.beats.candidates;
  std::size_t falls = 0;
  for (std::size_t i = 1; i < beats.size(); ++i) falls += beats[i].time < beats[i - 1].time;
  constexpr std::size_t often = 10;  // one step in ten; a list put together from two falls once
  if (beats.size() >= fewest_times && falls * often > beats.size())
    refuse({file},
           fmt::format("holds no sample numbers of beats: they fall {} times among {} numbers. Are they samples, or "
                       "intervals (--input intervals)?",
                       falls, beats.size()));
  result.beats.provenance.format = "sample-numbers";
  return result;
}

}  // namespace pulsewright::reading
