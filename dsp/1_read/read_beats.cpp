#include <fmt/format.h>

#include <algorithm>

#include "annotation_bytes.hpp"
#include "beat_files.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "record_header.hpp"

namespace pulsewright {

namespace reading {

std::optional<RecordTiming> timing_beside(const std::filesystem::path& path) {
  std::error_code ignored;
  std::filesystem::path header_path = path;
  header_path.replace_extension(".hea");
  if (!std::filesystem::exists(header_path, ignored)) return std::nullopt;
  const MappedFile file{header_path};
  const RecordHeader header = parse_record_header(file.text(), file.name());
  RecordTiming timing{Hertz{header.frame_rate}, std::nullopt};
  if (header.frames) timing.duration = time_of(SampleIndex{*header.frames}, timing.rate);
  return timing;
}

BeatFile beats_of_annotations(const std::vector<Annotation>& annotations, Hertz rate, std::optional<Seconds> duration) {
  BeatFile file;
  std::optional<Seconds> flutter_start;
  Seconds last{0};
  std::size_t before_start = 0;
  for (const Annotation& a : annotations) {
    const Seconds time = time_of(a.sample, rate);
    last = std::max(last, time);
    if (a.code == flutter_begins && !flutter_start) flutter_start = time;
    if (a.code == flutter_ends) {
      // an end without a beginning: the episode was under way when the recording began
      file.flutter.push_back({flutter_start.value_or(Seconds{0}), time});
      flutter_start.reset();
    }
    if (!is_beat_code(a.code)) continue;
    if (a.sample.value() < 0) {
      ++before_start;
      continue;
    }
    Beat beat;
    beat.time = time;
    beat.sample = a.sample;
    beat.confidence = 1;
    beat.label = label_of_code(a.code);
    file.beats.candidates.push_back(beat);
  }
  file.beats.duration = std::max(duration.value_or(last), last);
  if (flutter_start) file.flutter.push_back({*flutter_start, file.beats.duration});
  if (before_start > 0)
    file.beats.warnings.push_back(
        {"beats_before_start",
         fmt::format("{} beats lie before the start of the recording and are left out", before_start)});
  order_beats(file.beats);
  return file;
}

void order_beats(BeatTrain& train) {
  auto& beats = train.candidates;
  const auto earlier = [](const Beat& a, const Beat& b) { return a.time < b.time; };
  if (!std::is_sorted(beats.begin(), beats.end(), earlier)) {
    std::stable_sort(beats.begin(), beats.end(), earlier);
    train.warnings.push_back({"beats_out_of_order", "the beats were not in time order and have been sorted"});
  }
  const auto same = [](const Beat& a, const Beat& b) { return a.time == b.time && a.verdict == b.verdict; };
  const auto kept = std::unique(beats.begin(), beats.end(), same);
  if (kept != beats.end()) {
    train.warnings.push_back(
        {"beats_repeated",
         fmt::format("{} beats had the same time as the one before and were left out", beats.end() - kept)});
    beats.erase(kept, beats.end());
  }
}

}  // namespace reading

BeatFile read_beats(const std::filesystem::path& path, std::optional<Hertz> rate) {
  using namespace reading;
  if (rate && !(rate->value() > 0))
    throw Error{ErrorCode::usage, fmt::format("rate {} Hz: a sampling rate is above 0", rate->value())};
  const MappedFile file{path};
  const auto annotations = parse_annotations(file.bytes(), file.name());
  const auto timing = timing_beside(path);
  if (!timing && !rate)
    throw Error{ErrorCode::usage,
                message_at({file.name()}, "holds sample numbers and no header stands beside it; state the rate")};
  BeatFile beats =
      beats_of_annotations(annotations, timing ? timing->rate : *rate, timing ? timing->duration : std::nullopt);
  beats.beats.provenance.input = path.filename().string();
  beats.beats.provenance.format = "annotations";
  beats.beats.provenance.version = version();
  beats.beats.provenance.sha256 = sha256_of_file(path);
  return beats;
}

}  // namespace pulsewright
