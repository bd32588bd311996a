#include <boost/crc.hpp>

#include "pulsewright/wire.hpp"

namespace pulsewright {

std::uint16_t frame_check(std::span<const unsigned char> bytes) {
  boost::crc_optimal<16, 0x1021, 0xFFFF, 0, false, false> check;
  check.process_bytes(bytes.data(), bytes.size());
  return static_cast<std::uint16_t>(check.checksum());
}

std::array<unsigned char, frame_size> frame_of(std::uint32_t sequence, std::uint32_t ticks_us, std::int32_t value) {
  std::array<unsigned char, frame_size> frame{};
  std::size_t at = 0;
  const auto put = [&](std::uint32_t number, int bytes) {
    for (int k = 0; k < bytes; ++k) frame[at++] = static_cast<unsigned char>(number >> (8 * k) & 0xFF);
  };
  for (const unsigned char byte : frame_start) frame[at++] = byte;
  put(sequence, 2);
  put(ticks_us, 4);
  put(static_cast<std::uint32_t>(value), 4);
  put(frame_check(std::span{frame}.subspan(frame_start.size(), at - frame_start.size())), 2);
  return frame;
}

}  // namespace pulsewright
