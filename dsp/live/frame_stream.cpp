#include <cstddef>
#include <cstdint>

#include "wire_stream.hpp"

namespace pulsewright::live_stage {
namespace {

std::uint32_t number_at(std::span<const unsigned char> bytes, std::size_t at, int width) {
  std::uint32_t number = 0;
  for (int k = width; k-- > 0;) number = number << 8 | bytes[at + static_cast<std::size_t>(k)];
  return number;
}

constexpr std::size_t sequence_at = 2, ticks_at = 4, value_at = 8, check_at = 12;

}  // namespace

void FrameStream::push(std::span<const char> bytes, std::vector<WireSample>& samples) {
  counts.bytes += bytes.size();
  held_.insert(held_.end(), bytes.begin(), bytes.end());
  std::size_t at = 0;
  while (held_.size() - at >= frame_size) {
    const std::span<const unsigned char> frame = std::span{held_}.subspan(at, frame_size);
    if (frame[0] != frame_start[0] || frame[1] != frame_start[1]) {
      ++counts.stray_bytes;
      ++at;
      continue;
    }
    if (frame_check(frame.subspan(sequence_at, check_at - sequence_at)) != number_at(frame, check_at, 2)) {
      // Perhaps what looked like a start was none: a frame may begin inside it.
      ++counts.spoiled;
      counts.last_spoiled = "a frame's check sum is wrong";
      ++counts.stray_bytes;
      ++at;
      continue;
    }
    WireSample sample;
    sample.sequence = number_at(frame, sequence_at, 2);
    sample.ticks = SensorTicks{number_at(frame, ticks_at, 4), TickUnit::microseconds};
    sample.value = static_cast<float>(static_cast<std::int32_t>(number_at(frame, value_at, 4)));
    samples.push_back(sample);
    ++counts.samples;
    at += frame_size;
  }
  held_.erase(held_.begin(), held_.begin() + static_cast<std::ptrdiff_t>(at));
}

void FrameStream::finish(std::vector<WireSample>&) {
  counts.stray_bytes += held_.size();
  held_.clear();
}

}  // namespace pulsewright::live_stage
