#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "crop.hpp"
#include "edf_header.hpp"
#include "edf_recording.hpp"
#include "file_bytes.hpp"
#include "hash.hpp"
#include "implausible.hpp"
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
  const reading::FileBytes file{beside, reading::Opening::stored};
  const reading::RecordHeader header = reading::parse_record_header(file.text(), file.name());
  const bool listed = std::any_of(header.signals.begin(), header.signals.end(), [&](const reading::SignalSpec& signal) {
    return signal.file == path.filename().string();
  });
  if (listed) return beside;
  return std::nullopt;
}

/// The bytes that `file` still holds behind `beginning`, for the hash.
void pass_rest(reading::InputFile& file, std::string_view beginning, const reading::ByteSink& sink) {
  if (!sink) return;
  reading::LineBlocks blocks{beginning, &file};
  while (!blocks.at_end()) {
    const std::string_view block = blocks.next();
    sink({reinterpret_cast<const unsigned char*>(block.data()), block.size()});
  }
}

Recording read_single_file(const fs::path& path, std::optional<Hertz> rate, const reading::ByteSink& sink) {
  reading::InputFile file{path};
  std::string beginning(reading::text_beginning, '\0');
  beginning.resize(file.read(beginning.data(), beginning.size()));
  if (beginning.empty()) reading::refuse({file.name()}, "is empty");
  const bool piped = path == reading::standard_input;
  if (reading::looks_like_edf(beginning)) {
    if (!file.size())
      reading::refuse({file.name()},
                      "is EDF, which can only be read from a file that is not packed; save it so and name the file");
    Recording recording = reading::read_edf(path, beginning, *file.size());
    pass_rest(file, beginning, sink);
    return recording;
  }
  if (reading::looks_like_record_header(beginning)) {
    if (piped)
      reading::refuse({file.name()},
                      "is the header of an open record, whose samples lie in other files; name the record");
    return reading::read_open_record(path, sink);
  }
  return reading::read_text_recording(beginning, file, rate, sink);
}

/// No sensor of a heart comes faster, in Hz (ours: a thousand times the fastest converters in use); times that say so are in another unit.
constexpr double fastest_hz = 1e7;
/// None is slower than a sample in a quarter of an hour (ours: slower still than the thermometers among them).
constexpr double slowest_hz = 1e-3;

void check_rates(const Recording& recording, const std::string& file) {
  for (const Channel& channel : recording.channels)
    if (!(channel.rate.value() >= slowest_hz && channel.rate.value() <= fastest_hz))
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
  reading::take_out_implausible(recording, path.string());
  recording.provenance.input = path.filename().string();
  recording.provenance.version = version();
  if (options.hash) recording.provenance.sha256 = hash.finish();
  reading::note_missing_wave(recording);
  reading::crop(recording, options.start, options.end);
  return recording;
}

}  // namespace pulsewright
