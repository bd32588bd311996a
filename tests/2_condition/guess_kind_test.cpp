#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <limits>

#include "2_condition/sine.hpp"
#include "2_condition/waves.hpp"
#include "pulsewright/condition.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {
namespace {

using test::channel_of;

TEST(GuessKind, TellsEcgFromPulseAtEveryRate) {
  for (const double rate : {100.0, 128.0, 250.0, 500.0, 1000.0}) {
    EXPECT_EQ(guess_kind(channel_of(test::ecg(rate, 30), rate)), ChannelKind::ecg) << rate;
  }
  for (const double rate : {25.0, 50.0, 125.0, 500.0, 1000.0}) {
    EXPECT_EQ(guess_kind(channel_of(test::pulse(rate, 30), rate)), ChannelKind::pulse) << rate;
  }
}

TEST(GuessKind, DoesNotDependOnUnitSignOrOffset) {
  for (const float scale : {-1.0F, 1000.0F, 0.001F}) {
    std::vector<float> e = test::ecg(250, 30), p = test::pulse(250, 30);
    for (float& v : e) v = scale * (v + 7.0F);
    for (float& v : p) v = scale * (v + 7.0F);
    EXPECT_EQ(guess_kind(channel_of(e, 250)), ChannelKind::ecg) << scale;
    EXPECT_EQ(guess_kind(channel_of(p, 250)), ChannelKind::pulse) << scale;
  }
}

TEST(GuessKind, CallsNeitherWhatIsNeither) {
  EXPECT_EQ(guess_kind(channel_of({}, 250)), ChannelKind::other);
  EXPECT_EQ(guess_kind(channel_of({1.0F}, 250)), ChannelKind::other);
  EXPECT_EQ(guess_kind(channel_of(std::vector<float>(5000, 3.0F), 250)), ChannelKind::other);
  EXPECT_EQ(guess_kind(channel_of(std::vector<float>(5000, std::numeric_limits<float>::quiet_NaN()), 250)),
            ChannelKind::other);
  EXPECT_EQ(guess_kind(channel_of(test::noise(5000, 1.0, 1), 250)), ChannelKind::other);
  EXPECT_EQ(guess_kind(channel_of(test::sine(0.25, 250, 15000), 250)), ChannelKind::other);  // breathing
  EXPECT_EQ(guess_kind(channel_of(test::ecg(250, 2.0), 250)), ChannelKind::other);           // too short to tell
  EXPECT_EQ(guess_kind(channel_of(test::pulse(10, 60), 10)), ChannelKind::other);            // too slow to tell
  EXPECT_THROW((void)guess_kind(channel_of({1.0F}, 0.0)), Error);
}

/// Where the open recordings are, if anywhere.
std::filesystem::path data_folder() {
  if (const char* set = std::getenv("PULSEWRIGHT_DATA")) return set;
  return std::filesystem::path{PULSEWRIGHT_SOURCE_DIR}.parent_path() / "shared" / "datasets";
}

TEST(GuessKind, IsRightOnEveryDevelopmentRecordOfArrhythmia) {
  const std::filesystem::path folder = data_folder() / "arrhythmia";
  if (!std::filesystem::exists(folder)) GTEST_SKIP() << "skipped: no open recordings at " << folder;
  // The development records; those of the other half were looked at once, after the limits were set.
  for (const char* name : {"101", "106", "108", "109", "112", "114", "115", "116", "118", "119", "122", "124", "201",
                           "203", "205", "207", "208", "209", "215", "220", "223", "230", "102", "104", "107", "217"}) {
    const Recording recording = read_recording(folder / name);
    for (const Channel& channel : recording.channels)
      EXPECT_EQ(guess_kind(channel), ChannelKind::ecg) << name << " " << channel.name;
  }
}

}  // namespace
}  // namespace pulsewright
