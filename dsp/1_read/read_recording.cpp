#include <fmt/format.h>

#include "crop.hpp"
#include "hash.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "open_record.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace {

namespace fs = std::filesystem;

/// The header of the record that `path` names: itself, or with `.hea` added.
std::optional<fs::path> header_of(const fs::path& path) {
  std::error_code ignored;
  if (reading::lower_case(path.extension().string()) == ".hea") return path;
  fs::path with_suffix = path;
  with_suffix += ".hea";
  if (fs::exists(with_suffix, ignored)) return with_suffix;
  return std::nullopt;
}

}  // namespace

Recording read_recording(const fs::path& path, const ReadOptions& options) {
  if (options.rate && !(options.rate->value() > 0))
    throw Error{ErrorCode::usage, fmt::format("rate {} Hz: a sampling rate is above 0", options.rate->value())};
  reading::Sha256 hash;
  reading::ByteSink sink;
  if (options.hash) sink = [&hash](std::span<const unsigned char> bytes) { hash.update(bytes); };
  const auto header = header_of(path);
  if (!header) reading::refuse({path.string()}, "is in no known format");
  Recording recording = reading::read_open_record(*header, sink);
  recording.provenance.input = path.filename().string();
  recording.provenance.version = version();
  if (options.hash) recording.provenance.sha256 = hash.finish();
  reading::crop(recording, options.start, options.end);
  return recording;
}

}  // namespace pulsewright
