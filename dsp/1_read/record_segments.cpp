#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "channel_kind.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "open_record.hpp"
#include "size_limit.hpp"

namespace pulsewright::reading {

namespace {

constexpr float not_recorded = std::numeric_limits<float>::quiet_NaN();

RecordHeader read_header(const std::filesystem::path& path, const ByteSink& sink) {
  const MappedFile file{path};
  if (file.size() == 0) refuse({file.name()}, "is empty; a header starts with the record's name");
  if (sink) sink(file.bytes());
  return parse_record_header(file.text(), file.name());
}

/// The channel of the whole that a segment's signal belongs to.
std::optional<std::size_t> home_of(const StoredSignals& whole, const Channel& channel, std::size_t position,
                                   bool by_description) {
  if (!by_description) {
    if (position < whole.channels.size()) return position;
    return std::nullopt;
  }
  const auto found = std::find_if(whole.channels.begin(), whole.channels.end(),
                                  [&](const Channel& c) { return c.name == channel.name; });
  if (found == whole.channels.end()) return std::nullopt;
  return static_cast<std::size_t>(found - whole.channels.begin());
}

/// Puts the signals of a segment in their place.
void place_segment(StoredSignals& whole, StoredSignals segment, const SegmentSpec& spec, std::int64_t first_frame,
                   bool by_description, const std::string& header_name) {
  const Place place{header_name, spec.line};
  for (std::size_t i = 0; i < segment.channels.size(); ++i) {
    Channel& from = segment.channels[i];
    const auto home = home_of(whole, from, i, by_description);
    const bool fits = home && whole.samples_per_frame[*home] == segment.samples_per_frame[i] &&
                      whole.channels[*home].unit == from.unit;
    if (!fits) {
      whole.warnings.push_back(
          {"segment_signal_left_out",
           message_at(place, from.name,
                      "this signal of the segment has no channel of the same name, unit and rate in "
                      "the record; its stretch is a gap")});
      continue;
    }
    std::vector<float>& to = whole.channels[*home].samples;
    const auto at = static_cast<std::size_t>(first_frame * segment.samples_per_frame[i]);
    const std::size_t room = static_cast<std::size_t>(spec.frames * segment.samples_per_frame[i]);
    const std::size_t count = std::min(room, from.samples.size());
    std::copy_n(from.samples.begin(), count, to.begin() + static_cast<std::ptrdiff_t>(at));
  }
  for (Warning& warning : segment.warnings) whole.warnings.push_back(std::move(warning));
}

StoredSignals read_segments(const RecordHeader& header, const std::filesystem::path& path, const ByteSink& sink) {
  StoredSignals whole;
  const std::string name = path.string();
  std::int64_t frames = 0;
  for (const SegmentSpec& segment : header.segments) {
    frames += segment.frames;
    if (frames > most_samples) check_size({name, segment.line}, frames, 1);
  }
  if (header.frames && *header.frames != frames)
    whole.warnings.push_back(
        {"segment_lengths", message_at({name}, fmt::format("the segments hold {} samples of each signal where the "
                                                           "record line says {}; the segments are believed",
                                                           frames, *header.frames))});
  const bool variable = !header.segments.empty() && header.segments.front().frames == 0;
  std::int64_t at = 0;
  bool laid_out = false;
  for (const SegmentSpec& segment : header.segments) {
    const Place place{name, segment.line};
    if (segment.record != "~") {
      const std::filesystem::path beside{segment.record};
      if (beside.is_absolute() || std::find(beside.begin(), beside.end(), "..") != beside.end())
        refuse(place, segment.record, "a segment lies beside its header or below it");
      const std::filesystem::path segment_path = path.parent_path() / (segment.record + ".hea");
      std::error_code ignored;
      if (!std::filesystem::exists(segment_path, ignored))
        refuse(place, segment.record, "the segment's header is missing: " + segment_path.string());
      RecordHeader part = read_header(segment_path, sink);
      if (part.segmented) refuse(place, segment.record, "a segment has no segments of its own");
      if (part.frame_rate != header.frame_rate)
        refuse(place, segment.record,
               fmt::format("the segment is sampled at {} Hz, the record at {} Hz", part.frame_rate, header.frame_rate));
      const bool layout = segment.frames == 0;
      if (!laid_out) {  // the layout segment of a variable record, or the first segment of a fixed one
        std::int64_t per_frame = 0;
        for (const SignalSpec& spec : part.signals) per_frame += spec.samples_per_frame;
        check_size(place, frames, per_frame);
        for (const SignalSpec& spec : part.signals) {
          Channel channel;
          channel.name = spec.description;
          channel.unit = spec.unit;
          channel.rate = Hertz{header.frame_rate * spec.samples_per_frame};
          channel.samples.assign(static_cast<std::size_t>(frames * spec.samples_per_frame), not_recorded);
          whole.channels.push_back(std::move(channel));
          whole.samples_per_frame.push_back(spec.samples_per_frame);
        }
        laid_out = true;
      }
      if (!layout) {
        if (!part.frames) part.frames = segment.frames;
        place_segment(whole, read_stored_signals(part, segment_path, sink), segment, at, variable, name);
      }
    }
    at += segment.frames;
  }
  whole.frames = frames;
  return whole;
}

}  // namespace

Recording read_open_record(const std::filesystem::path& header_path, const ByteSink& sink) {
  const RecordHeader header = read_header(header_path, sink);
  StoredSignals stored =
      header.segmented ? read_segments(header, header_path, sink) : read_stored_signals(header, header_path, sink);
  if (stored.channels.empty())
    refuse({header_path.string()}, "describes no signals; there is nothing to read but the header");
  Recording recording;
  recording.channels = std::move(stored.channels);
  recording.warnings = std::move(stored.warnings);
  recording.clock_start = header.clock_start;
  recording.provenance.format = "open-record";
  for (std::size_t i = 0; i < recording.channels.size(); ++i) {
    Channel& channel = recording.channels[i];
    if (channel.name.empty()) channel.name = fmt::format("signal {}", i + 1);
    channel.kind = kind_of_channel(channel.name, channel.unit, channel.rate);
    const Seconds end = time_of(SampleIndex{static_cast<std::int64_t>(channel.samples.size())}, channel.rate);
    recording.duration = std::max(recording.duration, end);
  }
  return recording;
}

}  // namespace pulsewright::reading
