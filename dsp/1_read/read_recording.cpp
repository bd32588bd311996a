#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "crop.hpp"
#include "edf_header.hpp"
#include "edf_recording.hpp"
#include "hash.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "open_record.hpp"
#include "pulsewright/read.hpp"
#include "text_recording.hpp"
#include "wave_check.hpp"

namespace pulsewright {

namespace {

namespace fs = std::filesystem;

bool is_there(const fs::path& path) {
  std::error_code ignored;
  return fs::exists(path, ignored);
}

/// The header of the record that `path` names: itself, the same with `.hea` added, or, for a signal file, the header beside it that lists
/// it.
std::optional<fs::path> header_of(const fs::path& path) {
  if (reading::lower_case(path.extension().string()) == ".hea") return path;
  fs::path beside = path;
  beside += ".hea";
  if (is_there(beside)) return beside;
  beside = path;
  beside.replace_extension(".hea");
  std::error_code ignored;
  if (!path.has_extension() || !fs::is_regular_file(path, ignored) || !is_there(beside)) return std::nullopt;
  const reading::MappedFile file{beside};
  const reading::RecordHeader header = reading::parse_record_header(file.text(), file.name());
  const bool listed = std::any_of(header.signals.begin(), header.signals.end(), [&](const reading::SignalSpec& signal) {
    return signal.file == path.filename().string();
  });
  if (listed) return beside;
  return std::nullopt;
}

Recording read_single_file(const fs::path& path, std::optional<Hertz> rate, const reading::ByteSink& sink) {
  const reading::MappedFile file{path};
  if (file.size() == 0) reading::refuse({file.name()}, "is empty");
  const bool piped = path == reading::standard_input;
  if (reading::looks_like_edf(file.text())) {
    if (piped) reading::refuse({file.name()}, "is EDF, which can only be read from a file; save it and name the file");
    Recording recording = reading::read_edf(path, file.text());
    if (sink) sink(file.bytes());
    return recording;
  }
  if (reading::looks_like_record_header(file.text())) {
    if (piped)
      reading::refuse({file.name()},
                      "is the header of an open record, whose samples lie in other files; name the record");
    return reading::read_open_record(path, sink);
  }
  std::size_t used = file.size();
  Recording recording = reading::read_text_recording(file.text(), file.name(), rate, used);
  if (sink) sink(file.bytes().first(used));
  return recording;
}

/// No sensor of a heart comes faster, in Hz (ours: a thousand times the fastest converters in use); times that say so are in another unit.
constexpr double fastest_hz = 1e7;

void check_rates(const Recording& recording, const std::string& file) {
  for (const Channel& channel : recording.channels)
    if (channel.rate.value() > fastest_hz)
      reading::refuse({file}, fmt::format("{:.4g} Hz", channel.rate.value()),
                      "is no sampling rate of a heart's signal; are its times, or --rate, in another unit?");
}

}  // namespace

Recording read_recording(const fs::path& path, const ReadOptions& options) {
  if (options.rate && !(options.rate->value() > 0 && std::isfinite(options.rate->value())))
    throw Error{ErrorCode::usage, fmt::format("rate {} Hz: a sampling rate is above 0", options.rate->value())};
  reading::Sha256 hash;
  reading::ByteSink sink;
  if (options.hash) sink = [&hash](std::span<const unsigned char> bytes) { hash.update(bytes); };
  const auto header = path == reading::standard_input ? std::nullopt : header_of(path);
  Recording recording = header ? reading::read_open_record(*header, sink) : read_single_file(path, options.rate, sink);
  check_rates(recording, path.string());
  recording.provenance.input = path.filename().string();
  recording.provenance.version = version();
  if (options.hash) recording.provenance.sha256 = hash.finish();
  reading::note_missing_wave(recording);
  reading::crop(recording, options.start, options.end);
  return recording;
}

}  // namespace pulsewright
