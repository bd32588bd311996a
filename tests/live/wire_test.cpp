#include <gtest/gtest.h>

#include <random>

#include "live/sensor_bytes.hpp"

namespace {

using namespace pulsewright;
using namespace live_tests;

std::vector<WireSample> read_all(const std::string& bytes, WireForm form = WireForm::automatic,
                                 std::size_t piece = 1000) {
  WireReader reader{form};
  std::vector<WireSample> samples;
  for (std::size_t at = 0; at < bytes.size(); at += piece)
    reader.push(std::span{bytes}.subspan(at, std::min(piece, bytes.size() - at)), samples);
  reader.finish(samples);
  return samples;
}

TEST(Wire, ChecksFramesWithTheCrcWhoseCheckValueIsPublished) {
  // CRC-16 with polynomial 0x1021 and initial value 0xFFFF gives 0x29B1 for "123456789" (Williams
  // 1993, A painless guide to CRC error detection algorithms).
  const std::string digits = "123456789";
  EXPECT_EQ(frame_check({reinterpret_cast<const unsigned char*>(digits.data()), digits.size()}), 0x29B1);
}

TEST(Wire, LaysAFrameOutAsTheProtocolSays) {
  const auto frame = frame_of(0x10203, 0x0A0B0C0D, -2);
  const std::vector<unsigned char> head{0xA7, 0x3C, 0x03, 0x02, 0x0D, 0x0C, 0x0B, 0x0A, 0xFE, 0xFF, 0xFF, 0xFF};
  EXPECT_EQ((std::vector<unsigned char>{frame.begin(), frame.end() - 2}), head);
}

TEST(Wire, ReadsLinesJsonObjectsTablesAndBareNumbers) {
  const auto keyed = read_all("seq=7,t_us=4294967295,v=512\nv=-1.5,t_ms=3, seq=8\r\n");
  ASSERT_EQ(keyed.size(), 2U);
  EXPECT_EQ(*keyed[0].sequence, 7U);
  EXPECT_EQ(keyed[0].ticks->count, 4294967295U);
  EXPECT_FLOAT_EQ(keyed[1].value, -1.5F);
  EXPECT_EQ(keyed[1].ticks->unit, TickUnit::milliseconds);

  const auto json = read_all("{\"seq\":1,\"t_us\":10000,\"v\":0.25}\n{\"v\":null}\n");
  ASSERT_EQ(json.size(), 2U);
  EXPECT_FLOAT_EQ(json[0].value, 0.25F);
  EXPECT_TRUE(std::isnan(json[1].value));

  const auto table = read_all("time_ms,seq,pulse\n10,1,500\n20,2,\n30.5,3,502\n");
  ASSERT_EQ(table.size(), 3U);
  EXPECT_EQ(table[2].ticks->count, 30500U);
  EXPECT_TRUE(std::isnan(table[1].value));

  const auto bare = read_all("512\n# a comment\n\n513\n");
  ASSERT_EQ(bare.size(), 2U);
  EXPECT_FALSE(bare[0].ticks || bare[0].sequence);
}

TEST(Wire, GivesTheSameSamplesForPiecesOfAnySize) {
  const auto sent = sent_pulse(75, 100, 5);
  std::string frames;
  for (const SentSample& s : sent) frames += frame_bytes(s);
  for (const std::string& bytes : {lines_of(sent), frames}) {
    const auto whole = read_all(bytes, WireForm::automatic, bytes.size());
    ASSERT_EQ(whole.size(), sent.size());
    for (const std::size_t piece : {1U, 3U, 17U, 400U}) {
      const auto pieces = read_all(bytes, WireForm::automatic, piece);
      ASSERT_EQ(pieces.size(), whole.size());
      for (std::size_t i = 0; i < whole.size(); ++i) {
        EXPECT_EQ(pieces[i].value, static_cast<float>(sent[i].value));
        EXPECT_EQ(pieces[i].ticks->count, sent[i].time_us);
        EXPECT_EQ(pieces[i].sequence, whole[i].sequence);
      }
    }
  }
}

TEST(Wire, LosesOnlyWhatWasDamaged) {
  const auto sent = sent_pulse(75, 100, 20);
  std::mt19937 random{5};
  std::string frames;
  std::size_t damaged = 0;
  for (const SentSample& s : sent) {
    std::string bytes = frame_bytes(s);
    if (random() % 20 == 0) {
      bytes[random() % bytes.size()] ^= static_cast<char>(1U << random() % 8);
      ++damaged;
    }
    frames += bytes;
  }
  WireReader reader;
  std::vector<WireSample> samples;
  reader.push(frames, samples);
  EXPECT_EQ(samples.size(), sent.size() - damaged);
  for (const WireSample& s : samples) EXPECT_EQ(s.value, static_cast<float>(sent[*s.sequence].value));
  EXPECT_GT(reader.counts().stray_bytes, 0U);
}

TEST(Wire, ShowsWhatItCannotReadAndDoesNotBlameACutFirstLine) {
  WireReader reader{WireForm::lines};
  std::vector<WireSample> samples;
  const std::string bytes = "0,v=12\nseq=1,t_us=x,v=2\n\x80\xff garbage\nv=3\n" + std::string(5000, 'a') + "\nv=4\n";
  reader.push(bytes, samples);
  EXPECT_EQ(samples.size(), 2U);
  EXPECT_EQ(reader.counts().spoiled, 3U);
  EXPECT_NE(reader.counts().last_spoiled.find("does not end"), std::string::npos);
}

TEST(HeartRatePacket, ReadsTheFieldsOfTheOpenService) {
  // Flags as in the Heart Rate Service 1.0: bit 0 wide rate, 1 and 2 contact, 3 energy, 4 RR in
  // 1/1024 s.
  const auto narrow = heart_rate_packet("00 48");
  ASSERT_TRUE(narrow);
  EXPECT_EQ(narrow->bpm, 72);
  EXPECT_FALSE(narrow->contact || narrow->energy_kj);

  const auto full = heart_rate_packet("0x1F:2c:01:e8:03:00:04:9a:03");
  ASSERT_TRUE(full);
  EXPECT_EQ(full->bpm, 300);
  EXPECT_TRUE(*full->contact);
  EXPECT_EQ(*full->energy_kj, 1000);
  ASSERT_EQ(full->rr.size(), 2U);
  EXPECT_DOUBLE_EQ(full->rr[0].value(), 1.0);
  EXPECT_DOUBLE_EQ(full->rr[1].value(), 922.0 / 1024.0);

  EXPECT_FALSE(*heart_rate_packet("0448")->contact);
  for (const char* bad : {"", "00", "01 48", "10 48", "10 48 00", "00 48 00", "zz 48", "004"})
    EXPECT_FALSE(heart_rate_packet(bad)) << bad;
}

}  // namespace
