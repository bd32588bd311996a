#include <gtest/gtest.h>

#include "../../tools/firmware/sensor_wire.h"
#include "live/sensor_bytes.hpp"

namespace {

using namespace pulsewright;

TEST(Firmware, SendsTheFramesAndLinesThatTheReceiverReads) {
  std::string frames, lines;
  std::vector<wire_sample> sent;
  for (const std::int32_t value : {0, 1, -1, 512, 1023, -2147483647, 2147483647}) {
    const wire_sample sample{static_cast<std::uint16_t>(65530 + sent.size() * 3),
                             4294967290U + static_cast<std::uint32_t>(sent.size()) * 10000U, value};
    sent.push_back(sample);
    std::uint8_t bytes[LINE_BYTES];
    ASSERT_EQ(wire_frame(&sample, bytes), frame_size);
    const auto expected = frame_of(sample.sequence, sample.ticks_us, value);
    EXPECT_TRUE(std::equal(expected.begin(), expected.end(), bytes));
    frames.append(reinterpret_cast<char*>(bytes), FRAME_BYTES);
    const std::uint8_t length = wire_line(&sample, bytes);
    ASSERT_LE(length, LINE_BYTES);
    lines.append(reinterpret_cast<char*>(bytes), length);
  }
  for (const std::string& bytes : {frames, lines}) {
    WireReader reader;
    std::vector<WireSample> read;
    reader.push(bytes, read);
    ASSERT_EQ(read.size(), sent.size());
    for (std::size_t i = 0; i < sent.size(); ++i) {
      EXPECT_EQ(*read[i].sequence, sent[i].sequence);
      EXPECT_EQ(read[i].ticks->count, sent[i].ticks_us);
      EXPECT_EQ(read[i].value, static_cast<float>(sent[i].value));
    }
  }
}

TEST(Firmware, KeepsSamplesInOrderAndRefusesThemWhenTheRingIsFull) {
  wire_ring ring{};
  wire_sample sample{};
  // Many times round, so that the counters wrap.
  std::uint16_t taken = 0;
  for (std::uint16_t round = 0; round < 100; ++round) {
    for (std::uint16_t i = 0; i < RING_SIZE; ++i) {
      sample.sequence = static_cast<std::uint16_t>(round * RING_SIZE + i);
      ASSERT_EQ(wire_ring_put(&ring, &sample), 1);
    }
    ASSERT_EQ(wire_ring_put(&ring, &sample), 0);
    for (std::uint16_t i = 0; i < RING_SIZE; ++i) {
      ASSERT_EQ(wire_ring_take(&ring, &sample), 1);
      EXPECT_EQ(sample.sequence, taken++);
    }
    ASSERT_EQ(wire_ring_take(&ring, &sample), 0);
  }
}

TEST(Firmware, SetsTheTimerSoThatNoFractionAddsUp) {
  // 16 MHz / 64 = 250 kHz: 2500 ticks a sample at 100 Hz, 1000 at 250 Hz.
  EXPECT_EQ(wire_timer_top(16'000'000, 64, 100), 2499);
  EXPECT_EQ(wire_timer_top(16'000'000, 64, 250), 999);
  EXPECT_EQ(wire_timer_top(16'000'000, 64, 360), 0);  // 694.4 ticks
  EXPECT_EQ(wire_timer_top(16'000'000, 1, 100), 0);   // does not fit 16 bits
}

}  // namespace
