// Damaged records: what is usable is kept with a warning, what is not is refused with place, value and rule.
#include <gtest/gtest.h>

#include "1_read/open_data.hpp"
#include "1_read/record_writer.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

constexpr auto unreadable = ErrorCode::unreadable;

TEST(DamagedRecord, WarnsWhenTheChecksumDoesNotFit) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2}));
  folder.write("r.hea", "r 1 100 2\nr.dat 16 1 12 0 1 4 0 lead\n");
  const Recording r = read_recording(folder.path() / "r");
  ASSERT_EQ(codes_of(r.warnings), "checksum_mismatch");
  EXPECT_NE(r.warnings[0].message.find("sum to 3 where the header says 4"), std::string::npos) << r.warnings[0].message;
}

TEST(DamagedRecord, KeepsWhatIsThereWhenTheHeaderPromisesMore) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2, 3}));
  folder.write("r.hea", "r 1 100 1000\nr.dat 16 1 12 0 1 4 0 lead\n");
  const Recording r = read_recording(folder.path() / "r");
  ASSERT_EQ(codes_of(r.warnings), "data_short");
  EXPECT_NE(r.warnings[0].message.find("holds 3 samples"), std::string::npos) << r.warnings[0].message;
  EXPECT_NE(r.warnings[0].message.find("promises 1000"), std::string::npos);
  EXPECT_EQ(r.channels[0].samples.size(), 3u);
  EXPECT_DOUBLE_EQ(r.duration.value(), 0.03);
}

TEST(DamagedRecord, RefusesASignalFileWithoutOneWholeSample) {
  const ScratchFolder folder;
  folder.write("r.dat", "x");
  folder.write("r.hea", "r 1 100 1000\nr.dat 16 1\n");
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.dat", "1 bytes", "1000");
}

TEST(DamagedRecord, IgnoresASurplusAndSaysHowMuch) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2, 3, 4}));
  folder.write("r.hea", "r 1 100 2\nr.dat 16 1 12 0 1 3 0 lead\n");
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(codes_of(r.warnings), "data_surplus");
  EXPECT_EQ(r.channels[0].samples.size(), 2u);
}

TEST(DamagedRecord, RefusesAMissingSignalFileAndNamesBoth) {
  const ScratchFolder folder;
  folder.write("r.hea", "r 1 100 2\nr.dat 16 1\n");
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.hea:2", "'r.dat'", "missing");
}

TEST(DamagedRecord, RefusesFileNamesThatNoFileSystemHolds) {
  const ScratchFolder folder;
  const std::string name(300, 'A');
  folder.write("r.hea", "r 1 100 2\n" + name + " 16 1\n");
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.hea:2", "missing");
  folder.write("m.hea", "m/1 1 100 2\n" + name + " 2\n");
  expect_refusal([&] { return read_recording(folder.path() / "m"); }, unreadable, "m.hea:2", "missing");
}

TEST(DamagedRecord, RefusesHeadersByLineValueAndRule) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2}));
  const auto refused = [&](const std::string& header, const auto&... pieces) {
    folder.write("r.hea", header);
    expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.hea", pieces...);
  };
  refused("", "is empty");
  refused("# only a comment\n", "no record line");
  refused("r\n", ":1:", "number of signals");
  refused("r 1 0 2\nr.dat 16 1\n", ":1:", "value '0'", "above 0 Hz");
  refused("r 1 -360 2\nr.dat 16 1\n", "value '-360'", "above 0 Hz");
  refused("r 1 fast 2\nr.dat 16 1\n", "value 'fast'");
  refused("r 1 nan 2\nr.dat 16 1\n", "value 'nan'");
  refused("r 1 100 -5\nr.dat 16 1\n", "value '-5'");
  refused("r 2 100 2\nr.dat 16 1\n", "promises 2 signals and describes 1");
  refused("r 1 100 2\nr.dat\n", ":2:", "a file and a coding");
  refused("r 1 100 2\nr.dat 17 1\n", ":2:", "value '17'", "8, 16, 24, 32, 61, 80, 160, 212, 310, 311");
  refused("r 1 100 2\nr.dat 16x0 1\n", "value '0'", "samples per frame");
  refused("r 1 100 2\nr.dat 16:-1 1\n", "value '-1'", "skew");
  refused("r 1 100 2\nr.dat 16 gain\n", "value 'gain'");
  refused("r 1 100 2\nr.dat 16 -200\n", "value '-200'");
  refused("r 1 100 2\n../r.dat 16 1\n", "beside its header");
  refused("r 1 100 2\n/etc/hostname 16 1\n", "beside its header");
  refused("r 2 100 2\nr.dat 16 1\nr.dat 212 1\n", ":3:", "same coding");
  refused("r 0 100 2\n", "describes no signals");
  refused("r 1 100 2 25:00:00\nr.dat 16 1\n", "value '25:00:00'", "base time");
  refused("r 1 100 2 10:00:00 40/01/2020\nr.dat 16 1\n", "value '40/01/2020'", "base date");
  refused("r/2 1 100 2\nnowhere 1\nr 1\n", "value 'nowhere'", "missing");
  refused("r/2 1 100 2\nr 1\n", "promises 2 segments and describes 1");
}

TEST(DamagedRecord, RefusesASegmentThatIsTheRecordItself) {
  const ScratchFolder folder;
  folder.write("m.hea", "m/1 1 100 2\nm 2\n");
  expect_refusal([&] { return read_recording(folder.path() / "m"); }, unreadable, "no segments of its own");
}

TEST(DamagedRecord, RefusesWhatWouldNotFitInMemoryBeforeAllocatingIt) {
  const ScratchFolder folder;
  folder.write("layout.hea", "layout 1 100 0\n~ 0 1 12 0 0 0 0 II\n");
  folder.write("m.hea", "m/2 1 100\nlayout 0\n~ 1000000000000\n");
  expect_refusal([&] { return read_recording(folder.path() / "m"); }, unreadable, "1000000000000",
                 "1073741824 samples");
}

TEST(DamagedRecord, LeavesOutASegmentSignalThatFitsNoChannel) {
  const ScratchFolder folder;
  folder.write("layout.hea", "layout 1 100 0\n~ 0 1 12 0 0 0 0 II\n");
  folder.write("s.dat", encode(16, {1, 2}));
  folder.write("s.hea", "s 1 100 2\ns.dat 16 1 12 0 1 3 0 stranger\n");
  folder.write("m.hea", "m/2 1 100 2\nlayout 0\ns 2\n");
  const Recording r = read_recording(folder.path() / "m");
  EXPECT_EQ(codes_of(r.warnings), "segment_signal_left_out");
  EXPECT_EQ(r.channels.size(), 1u);
}

}  // namespace
