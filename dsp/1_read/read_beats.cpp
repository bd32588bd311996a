#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "annotation_bytes.hpp"
#include "beat_files.hpp"
#include "edf_header.hpp"
#include "hash.hpp"
#include "list_span.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "record_header.hpp"
#include "text_cell.hpp"

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
        {"beats_repeated", fmt::format("{} had the same time as the one before and {} left out",
                                       beats.end() - kept == 1 ? "1 beat" : fmt::format("{} beats", beats.end() - kept),
                                       beats.end() - kept == 1 ? "was" : "were")});
    beats.erase(kept, beats.end());
  }
}

}  // namespace reading

namespace {

using namespace reading;

enum class BeatForm { annotations, table, listing, sample_numbers };

/// Bytes of a text, as far as the start shows.
bool is_text(std::string_view bytes) {
  constexpr std::size_t enough = 4096;
  const std::string_view head = bytes.substr(0, enough);
  return std::all_of(head.begin(), head.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x20 || c == '\t' || c == '\n' || c == '\r';
  });
}

BeatForm form_of(std::string_view bytes) {
  if (!is_text(bytes)) return BeatForm::annotations;
  std::string_view rest = bytes;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    if (trimmed(line).empty() || is_comment(line)) continue;
    const auto words = words_of(line);
    if (words.size() >= 4 && words[0] == "Time" && words[1] == "Sample") return BeatForm::listing;
    return number_in(words[0], false) ? BeatForm::sample_numbers : BeatForm::table;
  }
  return BeatForm::sample_numbers;
}

/// The rate that some annotation files state in a first comment, `## time resolution: N`.
std::optional<double> resolution_in(const std::vector<Annotation>& annotations) {
  constexpr std::string_view words = "## time resolution:";
  if (annotations.empty() || annotations.front().code != comment_code) return std::nullopt;
  const std::string_view text = annotations.front().text;
  if (!text.starts_with(words)) return std::nullopt;
  const auto value = whole_number(trimmed(text.substr(words.size())));
  return value && *value > 0 ? value : std::nullopt;
}

Hertz rate_or_usage(std::optional<double> stated, const std::optional<RecordTiming>& timing, std::optional<Hertz> rate,
                    const std::string& file) {
  if (stated) return Hertz{*stated};
  if (timing) return timing->rate;
  if (rate) return *rate;
  throw Error{
      ErrorCode::usage,
      message_at({file},
                 "holds sample numbers and no header stands beside it; state the rate (--reference-rate HZ), or "
                 "if these are intervals between beats, --input intervals")};
}

}  // namespace

BeatFile read_beats(const std::filesystem::path& path, std::optional<Hertz> rate) {
  if (rate && !(rate->value() > 0 && std::isfinite(rate->value())))
    throw Error{ErrorCode::usage, fmt::format("rate {} Hz: a sampling rate is above 0", rate->value())};
  const MappedFile file{path};
  if (file.size() == 0) refuse({file.name()}, "is empty");
  std::string_view text = file.text();
  if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);
  if (looks_like_edf(text) || looks_like_record_header(text))
    refuse({file.name()}, "is a recording, not a list of beats");
  BeatFile beats;
  const BeatForm form = form_of(text);
  const auto timing = form == BeatForm::table ? std::nullopt : timing_beside(path);
  switch (form) {
    case BeatForm::annotations: {
      const auto annotations = parse_annotations(file.bytes(), file.name());
      const Hertz used = rate_or_usage(resolution_in(annotations), timing, rate, file.name());
      beats = beats_of_annotations(annotations, used, timing ? timing->duration : std::nullopt);
      beats.beats.provenance.format = "annotations";
      break;
    }
    case BeatForm::listing: {
      std::optional<double> stated;
      const auto annotations = annotations_of_listing(text, file.name(), stated);
      beats = beats_of_annotations(annotations, rate_or_usage(stated, timing, rate, file.name()),
                                   timing ? timing->duration : std::nullopt);
      beats.beats.provenance.format = "annotation-listing";
      break;
    }
    case BeatForm::table: beats = beats_of_table(text, file.name(), rate); break;
    case BeatForm::sample_numbers:
      beats = beats_of_sample_numbers(text, file.name(), rate_or_usage(std::nullopt, timing, rate, file.name()));
      break;
  }
  order_beats(beats.beats);
  for (const Beat& beat : beats.beats.candidates) beats.beats.duration = std::max(beats.beats.duration, beat.time);
  check_list_time({file.name()}, beats.beats.duration.value());
  beats.beats.source = BeatSource::file;
  beats.beats.provenance.input = path.filename().string();
  beats.beats.provenance.version = version();
  beats.beats.provenance.sha256 = sha256_of(file.bytes());
  return beats;
}

}  // namespace pulsewright
