// What may be opened, and files that change, are cut or come packed.
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <thread>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/roster.hpp"
#include "pulsewright/table.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

constexpr auto unreadable = ErrorCode::unreadable;

std::string rows(int count) {
  std::string text = "time_s,ecg_mV\n";
  for (int i = 0; i < count; ++i) {
    char row[40];
    std::snprintf(row, sizeof row, "%.3f,%.3f\n", i * 0.004, std::sin(i * 0.05));
    text += row;
  }
  return text;
}

TEST(InputFile, ThatIsCutWhileItIsReadIsRefusedAndKillsNothing) {
  const ScratchFolder folder;
  const auto path = folder.write("long.csv", rows(4'000'000));
  std::thread cutter([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    EXPECT_EQ(::truncate(path.c_str(), 100'000), 0);
  });
  expect_refusal([&] { return read_recording(path); }, unreadable, "long.csv", "it was cut while it was read");
  cutter.join();
}

TEST(InputFile, APipeNamedInARecordHeaderIsRefusedAtOnce) {
  const ScratchFolder folder;
  folder.write("r.hea", "r 1 250 1000\nr.dat 16 200 11 1024 0 0 0 ecg\n");
  ASSERT_EQ(::mkfifo((folder.path() / "r.dat").c_str(), 0600), 0);
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.dat", "is a pipe");
}

TEST(InputFile, ADeviceIsRefusedByEveryReader) {
  for (const char* device : {"/dev/zero", "/dev/full", "/dev/random"}) {
    expect_refusal([&] { return read_recording(device); }, unreadable, device, "neither a file nor a pipe");
    expect_refusal([&] { return read_beats(device); }, unreadable, device);
    expect_refusal([&] { return read_rates(device); }, unreadable, device);
    expect_refusal([&] { return read_table(device); }, unreadable, device);
    expect_refusal([&] { return read_roster(device); }, unreadable, device);
    expect_refusal([&] { return sha256_of_file(device); }, unreadable, device);
    expect_refusal([&] { return bytes_of_file(device); }, unreadable, device);
  }
}

/// Packs a file with a tool of the system; false where there is none.
bool pack(const char* tool, const std::filesystem::path& from, const std::filesystem::path& to) {
  return std::system((std::string{tool} + " -c " + from.string() + " > " + to.string()).c_str()) == 0;
}

TEST(InputFile, PackedTextIsReadAsTheTextThatItHolds) {
  const ScratchFolder folder;
  const auto path = folder.write("a.csv", rows(30'000));
  const Recording plain = read_recording(path);
  for (const char* tool : {"gzip", "zstd -q"}) {
    const auto packed = folder.path() / (std::string{"a.csv."} + tool[0]);
    if (!pack(tool, path, packed)) GTEST_SKIP() << "skipped: there is no " << tool << " here";
    const Recording read = read_recording(packed);
    ASSERT_EQ(read.channels.size(), 1u);
    EXPECT_EQ(read.channels[0].samples, plain.channels[0].samples) << tool;
    EXPECT_EQ(read.provenance.sha256, plain.provenance.sha256);  // of what it holds
    std::filesystem::resize_file(packed, std::filesystem::file_size(packed) - 5);
    expect_refusal([&] { return read_recording(packed); }, unreadable, "ends in the middle");
  }
}

TEST(InputFile, DamagedPackedTextIsRefused) {
  const ScratchFolder folder;
  const auto path = folder.write("a.csv.gz", std::string{"\x1f\x8b\x08\0\0\0\0\0\0\x03\xff\xff\xff\xff\xff\xff", 16});
  expect_refusal([&] { return read_recording(path); }, unreadable, "a.csv.gz", "packed with gzip");
}

TEST(InputFile, ATextOfAnyLengthGivesTheSameSamplesAsItsParts) {
  const ScratchFolder folder;
  // Longer than the blocks in which it is read, so that rows are cut at their ends.
  const auto path = folder.write("long.csv", rows(700'000));
  const Recording recording = read_recording(path);
  ASSERT_EQ(recording.channels[0].samples.size(), 700'000u);
  for (const int i : {0, 1, 299'999, 300'000, 517'231, 699'999})
    EXPECT_NEAR(recording.channels[0].samples[static_cast<std::size_t>(i)], std::sin(i * 0.05), 6e-4) << i;
  EXPECT_DOUBLE_EQ(recording.channels[0].rate.value(), 250);
}

}  // namespace
