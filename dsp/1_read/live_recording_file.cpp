#include "live_recording_file.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <limits>
#include <vector>

#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/live.hpp"
#include "pulsewright/live_recording.hpp"

namespace pulsewright::reading {
namespace {

/// Everything is worked out for the whole of its span, gaps included: 60 days, as for lists.
constexpr std::int64_t longest_us = 60LL * 86400 * 1'000'000;

struct Content {
  std::vector<TimedSample> samples;
  ChannelKind kind = ChannelKind::other;
  std::optional<Hertz> rate;
  std::optional<std::string> begun;
  std::size_t gaps = 0;
};

/// `# key=value`.
void take_comment(std::string_view line, Content& content, const Place& place) {
  line.remove_prefix(1);
  line = trimmed(line);
  const std::size_t equals = line.find('=');
  if (equals == std::string_view::npos) return;
  const std::string_view key = line.substr(0, equals), value = line.substr(equals + 1);
  if (key == "begun") content.begun = std::string{value};
  if (key == "gap") ++content.gaps;
  if (key != "rate_hz") return;
  const auto rate = whole_number(value);
  if (!rate || !(*rate > 0)) refuse(place, value, "is no sampling rate");
  content.rate = Hertz{*rate};
}

void take_row(std::string_view line, Content& content, const Place& place) {
  const std::size_t comma = line.find(',');
  const auto time = whole_integer(line.substr(0, comma));
  if (comma == std::string_view::npos || !time || *time < 0)
    refuse(place, line, "a row is a whole number of microseconds and a value");
  if (!content.samples.empty() && *time <= content.samples.back().time_us)
    refuse(place, line, "its time is not after that of the row before");
  if (*time > longest_us) refuse(place, line, "a live recording is at most 60 days long");
  TimedSample sample{*time, std::numeric_limits<float>::quiet_NaN(), WireBreak::none};
  if (const std::string_view cell = trimmed(line.substr(comma + 1)); !cell.empty()) {
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), sample.value);
    if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(sample.value))
      refuse(place, line, "the value is no number");
  }
  content.samples.push_back(sample);
}

Content content_of(std::string_view text, const std::string& file) {
  while (!text.empty() && text.back() == '\0') text.remove_suffix(1);
  const std::size_t end = text.rfind('\n');
  text = text.substr(0, end == std::string_view::npos ? 0 : end + 1);
  Content content;
  std::int64_t number = 0;
  while (!text.empty()) {
    const std::string_view line = take_line(text);
    const Place place{file, ++number};
    if (line.empty()) continue;
    if (line.front() == '#') {
      take_comment(line, content, place);
    } else if (content.kind == ChannelKind::other) {
      if (line == "time_us,ecg")
        content.kind = ChannelKind::ecg;
      else if (line == "time_us,pulse")
        content.kind = ChannelKind::pulse;
      else
        refuse(place, line, "the header of a live recording is time_us,ecg or time_us,pulse");
    } else {
      take_row(line, content, place);
    }
  }
  return content;
}

}  // namespace

bool looks_like_live_recording(std::string_view text) { return text.starts_with(live_recording_mark); }

Recording read_live_recording(std::string_view text, const std::string& file) {
  Content content = content_of(text, file);
  if (!content.rate) {
    RateFinder finder;
    for (const TimedSample& sample : content.samples) finder.push(sample);
    content.rate = finder.rate_so_far();
    if (!content.rate) refuse({file}, "holds fewer than three samples: the run ended before it had begun");
  }
  Channel channel;
  channel.name = to_string(content.kind);
  channel.kind = content.kind;
  channel.rate = *content.rate;
  SampleGrid grid{*content.rate};
  for (const TimedSample& sample : content.samples) grid.push(sample, channel.samples);
  grid.finish(channel.samples);
  Recording recording;
  recording.duration = time_of(SampleIndex{static_cast<std::int64_t>(channel.samples.size())}, channel.rate);
  recording.channels.push_back(std::move(channel));
  recording.clock_start = content.begun;
  recording.provenance.format = "live-recording";
  if (content.gaps > 0) {
    recording.warnings.push_back(
        {"live_gaps", fmt::format("the sensor was away or began anew {} time{}; the time in between is a gap",
                                  content.gaps, content.gaps == 1 ? "" : "s")});
  }
  return recording;
}

}  // namespace pulsewright::reading
