#include "table_content.hpp"

#include <algorithm>

#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

constexpr std::string_view beside_beats[] = {"time_s", "sample", "confidence", "verdict", "label", "delay_s"};

bool is_rate_name(std::string_view name) { return name == "bpm" || name.ends_with("_bpm"); }

}  // namespace

TableContent content_of(const std::vector<std::string_view>& names) {
  std::vector<std::string> words;
  words.reserve(names.size());
  for (const std::string_view name : names) words.push_back(lower_case(trimmed(name)));
  const auto has = [&words](std::string_view name) {
    return std::find(words.begin(), words.end(), name) != words.end();
  };
  const bool only_beats = std::all_of(words.begin(), words.end(), [](const std::string& word) {
    return std::find(std::begin(beside_beats), std::end(beside_beats), word) != std::end(beside_beats);
  });
  if (has("time_s") && only_beats) return TableContent::beats;
  if (has("original_ms")) return TableContent::intervals;
  if (has("start_s") && has("end_s") && std::any_of(words.begin(), words.end(), is_rate_name))
    return TableContent::rates;
  return TableContent::samples;
}

const char* advice_for(TableContent content) {
  switch (content) {
    case TableContent::beats: return "is a list of beats; --input beats reads it";
    case TableContent::intervals:
      return "is a table of judged intervals, which no command reads back; give the recording it came from, or its "
             "beats "
             "with --input beats";
    case TableContent::rates: return "is a table of heart rates; effort --input rates and compare rate read it";
    case TableContent::samples: break;
  }
  return "is a recording, samples beside a time; leave --input out to have its beats found";
}

}  // namespace pulsewright::reading
