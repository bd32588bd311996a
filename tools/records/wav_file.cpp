#include "wav_file.hpp"

#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <vector>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

/// A file in memory, for the library to write to.
struct MemoryFile {
  std::string bytes;
  sf_count_t at = 0;
};

MemoryFile& file_of(void* user) { return *static_cast<MemoryFile*>(user); }

sf_count_t length_of(void* user) { return static_cast<sf_count_t>(file_of(user).bytes.size()); }

sf_count_t seek(sf_count_t offset, int whence, void* user) {
  MemoryFile& file = file_of(user);
  file.at = offset + (whence == SEEK_CUR ? file.at : whence == SEEK_END ? length_of(user) : 0);
  return file.at;
}

sf_count_t read(void* target, sf_count_t count, void* user) {
  MemoryFile& file = file_of(user);
  const sf_count_t there = std::clamp<sf_count_t>(length_of(user) - file.at, 0, count);
  std::memcpy(target, file.bytes.data() + file.at, static_cast<std::size_t>(there));
  file.at += there;
  return there;
}

sf_count_t write(const void* source, sf_count_t count, void* user) {
  MemoryFile& file = file_of(user);
  const auto end = static_cast<std::size_t>(file.at + count);
  if (file.bytes.size() < end) file.bytes.resize(end);
  std::memcpy(file.bytes.data() + file.at, source, static_cast<std::size_t>(count));
  file.at += count;
  return count;
}

sf_count_t tell(void* user) { return file_of(user).at; }

}  // namespace

std::string wav_bytes(std::span<const float> samples, Hertz rate, double full_scale) {
  constexpr double largest = 32767;
  std::vector<short> codes;
  codes.reserve(samples.size());
  for (const float v : samples)
    codes.push_back(
        static_cast<short>(std::lround(std::clamp(static_cast<double>(v) / full_scale, -1.0, 1.0) * largest)));
  MemoryFile memory;
  SF_INFO info{};
  info.samplerate = static_cast<int>(std::lround(rate.value()));
  info.channels = 1;
  info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
  SF_VIRTUAL_IO io{length_of, seek, read, write, tell};
  std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open_virtual(&io, SFM_WRITE, &info, &memory), sf_close);
  if (!file) throw Error(ErrorCode::contract, std::string("WAV: ") + sf_strerror(nullptr));
  const auto count = static_cast<sf_count_t>(codes.size());
  if (sf_writef_short(file.get(), codes.data(), count) != count)
    throw Error(ErrorCode::contract, std::string("WAV: ") + sf_strerror(file.get()));
  file.reset();  // writes the sizes into the header
  return memory.bytes;
}

Recording read_wav(const std::filesystem::path& path) {
  constexpr int enough_hz = 1000;
  SF_INFO info{};
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_READ, &info), sf_close);
  if (!file) throw Error(ErrorCode::unreadable, path.string() + ": no sound file: " + sf_strerror(nullptr));
  const int together = std::max(1, info.samplerate / enough_hz);
  const auto channels = static_cast<std::size_t>(info.channels);
  Recording recording;
  recording.channels.resize(channels);
  for (std::size_t c = 0; c < channels; ++c) {
    recording.channels[c].name = "channel " + std::to_string(c + 1);
    recording.channels[c].kind = ChannelKind::ecg;
    recording.channels[c].rate = Hertz{static_cast<double>(info.samplerate) / together};
  }
  std::vector<float> frames(channels * static_cast<std::size_t>(together));
  while (sf_readf_float(file.get(), frames.data(), together) == together)
    for (std::size_t c = 0; c < channels; ++c) {
      double sum = 0;
      for (std::size_t i = c; i < frames.size(); i += channels) sum += static_cast<double>(frames[i]);
      recording.channels[c].samples.push_back(static_cast<float>(sum / together));
    }
  if (recording.channels.empty() || recording.channels.front().samples.empty())
    throw Error(ErrorCode::unreadable, path.string() + ": holds no samples");
  const Channel& first = recording.channels.front();
  recording.duration = Seconds{static_cast<double>(first.samples.size()) / first.rate.value()};
  recording.provenance = {
      .input = path.filename().string(), .format = "wav", .sha256 = "", .options = "", .version = version()};
  return recording;
}

}  // namespace pulsewright::program
