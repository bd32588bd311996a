#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "mapped_file.hpp"
#include "message.hpp"
#include "open_record.hpp"
#include "sample_coding.hpp"
#include "size_limit.hpp"

namespace pulsewright::reading {

namespace {

/// Samples decoded at a time; small enough to stay in the cache.
constexpr std::int64_t block_samples = 16384;

/// Signals that are interleaved in one file.
struct SignalFile {
  std::string name;
  std::vector<std::size_t> signals;  ///< positions in the header, in frame order
  std::int64_t per_frame = 0;
};

std::vector<SignalFile> files_of(const RecordHeader& header, const std::string& header_name) {
  std::vector<SignalFile> files;
  for (std::size_t i = 0; i < header.signals.size(); ++i) {
    const SignalSpec& signal = header.signals[i];
    const Place place{header_name, signal.line};
    if (signal.coding == 0) continue;
    const std::filesystem::path path{signal.file};
    if (path.is_absolute() || signal.file == "-" || std::find(path.begin(), path.end(), "..") != path.end())
      refuse(place, signal.file, "a signal file lies beside its header or below it");
    auto file = std::find_if(files.begin(), files.end(), [&](const SignalFile& f) { return f.name == signal.file; });
    if (file == files.end()) file = files.insert(files.end(), SignalFile{signal.file, {}, 0});
    if (!file->signals.empty()) {
      const SignalSpec& before = header.signals[file->signals.front()];
      if (before.coding != signal.coding || before.byte_offset != signal.byte_offset)
        refuse(place, signal.file, "signals in one file have the same coding and byte offset");
    }
    file->signals.push_back(i);
    file->per_frame += signal.samples_per_frame;
  }
  return files;
}

/// Decides how many frames of a file to read, and says what is odd about its length.
std::int64_t frames_to_read(const SignalFile& file, const SignalSpec& first, const RecordHeader& header,
                            const std::string& path, std::int64_t size, Warnings& warnings) {
  const std::int64_t stored =
      samples_in_bytes(first.coding, std::max<std::int64_t>(0, size - first.byte_offset)) / file.per_frame;
  if (!header.frames) return stored;
  if (stored == 0)
    refuse({path}, fmt::format("holds {} bytes, not one whole sample of each signal; its header promises {}", size,
                               *header.frames));
  if (stored < *header.frames)
    warnings.push_back({"data_short", message_at({path}, fmt::format("holds {} samples of each signal where the header "
                                                                     "promises {}; the samples that are there are used",
                                                                     stored, *header.frames))});
  if (stored > *header.frames)
    warnings.push_back(
        {"data_surplus", message_at({path}, fmt::format("holds {} samples of each signal where the header promises {}; "
                                                        "the surplus is ignored",
                                                        stored, *header.frames))});
  return std::min(stored, *header.frames);
}

/// Stored values in the unit of their signal, a missing one as NaN. Where the coding has few values, each is converted once.
class UnitValues {
 public:
  explicit UnitValues(const SignalSpec& spec)
      : invalid_(invalid_value(spec.coding)), gain_(spec.gain), baseline_(static_cast<double>(spec.baseline)) {
    if (invalid_ < -most_known / 2) return;
    known_.reserve(static_cast<std::size_t>(-2 * invalid_));
    for (std::int64_t value = invalid_; value < -invalid_; ++value) known_.push_back(converted(value));
  }

  float operator()(std::int64_t value) const {
    const std::uint64_t place = static_cast<std::uint64_t>(value) - static_cast<std::uint64_t>(invalid_);
    return place < known_.size() ? known_[place] : converted(value);
  }

 private:
  static constexpr std::int64_t most_known = 4096;

  [[nodiscard]] float converted(std::int64_t value) const {
    return value == invalid_ ? std::numeric_limits<float>::quiet_NaN()
                             : static_cast<float>((static_cast<double>(value) - baseline_) / gain_);
  }

  std::int64_t invalid_;
  double gain_, baseline_;
  std::vector<float> known_;
};

/// What is kept of a signal while its file is decoded.
struct Decoding {
  UnitValues in_unit;
  std::int64_t value = 0;  ///< running value of coding 8
  std::uint16_t sum = 0;
};

/// Takes one signal's samples out of a block of frames.
void take_signal(std::span<const std::int32_t> block, std::int64_t per_frame, std::int64_t offset,
                 const SignalSpec& spec, Decoding& state, float* out) {
  const bool differences = spec.coding == 8;
  std::uint64_t sum = state.sum;
  for (auto at = static_cast<std::size_t>(offset); at < block.size(); at += static_cast<std::size_t>(per_frame))
    for (int k = 0; k < spec.samples_per_frame; ++k) {
      std::int64_t value = block[at + static_cast<std::size_t>(k)];
      if (differences) value = state.value += value;
      sum += static_cast<std::uint64_t>(value);
      *out++ = state.in_unit(value);
    }
  state.sum = static_cast<std::uint16_t>(sum);
}

void drop_skew(std::vector<float>& samples, const SignalSpec& spec) {
  const std::int64_t lead =
      std::min<std::int64_t>(spec.skew * spec.samples_per_frame, static_cast<std::int64_t>(samples.size()));
  if (lead == 0) return;
  std::move(samples.begin() + lead, samples.end(), samples.begin());
  std::fill(samples.end() - lead, samples.end(), std::numeric_limits<float>::quiet_NaN());
}

}  // namespace

StoredSignals read_stored_signals(const RecordHeader& header, const std::filesystem::path& header_path,
                                  const ByteSink& sink) {
  StoredSignals result;
  const std::string header_name = header_path.string();
  result.frames = header.frames.value_or(0);
  for (const SignalSpec& spec : header.signals) {
    Channel channel;
    channel.name = spec.description;
    channel.unit = spec.unit;
    channel.rate = Hertz{header.frame_rate * spec.samples_per_frame};
    if (spec.coding != 0 && !spec.calibrated)
      result.warnings.push_back({"gain_unknown", message_at({header_name, spec.line},
                                                            "the gain is not stated; 200 steps/mV is assumed, so "
                                                            "amplitudes are not calibrated")});
    result.channels.push_back(std::move(channel));
    result.samples_per_frame.push_back(spec.samples_per_frame);
  }
  std::int64_t total_per_frame = 0;
  for (const SignalSpec& spec : header.signals) total_per_frame += spec.samples_per_frame;

  for (const SignalFile& file : files_of(header, header_name)) {
    const SignalSpec& first = header.signals[file.signals.front()];
    const std::filesystem::path path = header_path.parent_path() / file.name;
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored))
      refuse({header_name, first.line}, file.name, "the signal file is missing: " + path.string());
    const MappedFile mapped{path};
    const std::int64_t frames =
        frames_to_read(file, first, header, mapped.name(), static_cast<std::int64_t>(mapped.size()), result.warnings);
    check_size({mapped.name()}, frames, total_per_frame);
    result.frames = std::max(result.frames, frames);
    const bool whole = !header.frames || frames == *header.frames;
    const std::int64_t end = std::min(first.byte_offset + bytes_of_samples(first.coding, frames * file.per_frame),
                                      static_cast<std::int64_t>(mapped.size()));
    if (sink) sink(mapped.bytes().first(static_cast<std::size_t>(end)));
    if (frames == 0) continue;
    const auto bytes =
        mapped.bytes().first(static_cast<std::size_t>(end)).subspan(static_cast<std::size_t>(first.byte_offset));

    std::vector<Decoding> states;
    for (const std::size_t i : file.signals) {
      states.push_back({UnitValues{header.signals[i]}, header.signals[i].initial, 0});
      result.channels[i].samples.resize(static_cast<std::size_t>(frames * header.signals[i].samples_per_frame));
    }
    const std::int64_t step = std::max<std::int64_t>(1, block_samples / file.per_frame / coding_stride) * coding_stride;
    std::vector<std::int32_t> block(static_cast<std::size_t>(std::min(step, frames) * file.per_frame));
    for (std::int64_t at = 0; at < frames; at += step) {
      const std::int64_t count = std::min(step, frames - at);
      const auto part = std::span{block}.first(static_cast<std::size_t>(count * file.per_frame));
      decode_samples(first.coding, bytes, at * file.per_frame, part);
      std::int64_t offset = 0;
      for (std::size_t k = 0; k < file.signals.size(); ++k) {
        const SignalSpec& spec = header.signals[file.signals[k]];
        take_signal(part, file.per_frame, offset, spec, states[k],
                    result.channels[file.signals[k]].samples.data() + at * spec.samples_per_frame);
        offset += spec.samples_per_frame;
      }
    }
    for (std::size_t k = 0; k < file.signals.size(); ++k) {
      const SignalSpec& spec = header.signals[file.signals[k]];
      if (whole && spec.checksum && static_cast<std::uint16_t>(*spec.checksum) != states[k].sum)
        result.warnings.push_back(
            {"checksum_mismatch",
             message_at({mapped.name()}, fmt::format("{}: the samples sum to {} where the header says {}; the file may "
                                                     "be damaged",
                                                     spec.description.empty() ? "a signal" : spec.description,
                                                     static_cast<std::int16_t>(states[k].sum),
                                                     static_cast<std::int16_t>(*spec.checksum)))});
      drop_skew(result.channels[file.signals[k]].samples, spec);
    }
  }
  return result;
}

}  // namespace pulsewright::reading
