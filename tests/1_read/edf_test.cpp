// EDF and EDF+ files, held against files that the tests write themselves and against open recordings.
#include <gtest/gtest.h>

#include <thread>

#include "1_read/open_data.hpp"
#include "1_read/record_writer.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

std::string field(const std::string& text, std::size_t width) {
  std::string padded = text.substr(0, width);
  padded.resize(width, ' ');
  return padded;
}

struct EdfSignal {
  std::string label;
  std::string unit;
  int samples_per_record = 0;
};

/// An EDF file after the words of the specification (Kemp et al. 1992, Electroencephalogr Clin Neurophysiol 82:391): physical -10 to 10 over
/// digital -1000 to 1000. `reserved` is "EDF+C" or "EDF+D" for EDF+. Sample k of signal i is k + 100 i; an annotation signal holds time stamps.
std::string edf_file(const std::vector<EdfSignal>& signals, int records, const std::string& reserved = "",
                     int stated = -2, const std::string& duration = "1") {
  std::string out = field("0", 8) + field(reserved.empty() ? "Wren" : "X X X X", 80) +
                    field(reserved.empty() ? "stair-climb" : "Startdate 02-MAR-2024 X X X", 80) + "02.03.24" +
                    "10.11.12" + field(std::to_string(256 * (signals.size() + 1)), 8) + field(reserved, 44) +
                    field(std::to_string(stated == -2 ? records : stated), 8) + field(duration, 8) +
                    field(std::to_string(signals.size()), 4);
  const auto all = [&](auto text_of, std::size_t width) {
    for (const EdfSignal& s : signals) out += field(text_of(s), width);
  };
  const auto annotations = [](const EdfSignal& s) { return s.label == "EDF Annotations"; };
  all([](const EdfSignal& s) { return s.label; }, 16);
  all([](const EdfSignal&) { return ""; }, 80);
  all([](const EdfSignal& s) { return s.unit; }, 8);
  all([&](const EdfSignal& s) { return annotations(s) ? "-1" : "-10"; }, 8);
  all([&](const EdfSignal& s) { return annotations(s) ? "1" : "10"; }, 8);
  all([&](const EdfSignal& s) { return annotations(s) ? "-32768" : "-1000"; }, 8);
  all([&](const EdfSignal& s) { return annotations(s) ? "32767" : "1000"; }, 8);
  all([](const EdfSignal&) { return ""; }, 80);
  all([](const EdfSignal& s) { return std::to_string(s.samples_per_record); }, 8);
  all([](const EdfSignal&) { return ""; }, 32);
  for (int r = 0; r < records; ++r)
    for (std::size_t i = 0; i < signals.size(); ++i) {
      const int n = signals[i].samples_per_record;
      if (annotations(signals[i])) {
        std::string stamp{'+'};
        stamp += std::to_string(r);
        stamp += "\x14\x14";
        stamp.resize(static_cast<std::size_t>(2 * n), '\0');
        out += stamp;
        continue;
      }
      for (int k = 0; k < n; ++k) put_little(out, r * n + k + 100 * static_cast<int>(i), 2);
    }
  return out;
}

const std::vector<EdfSignal> two_signals{{"ECG II", "mV", 4}, {"PLETH", "", 2}};

TEST(Edf, ReadsSignalsOfDifferentRatesInPhysicalUnits) {
  const ScratchFolder folder;
  const Recording r = read_recording(folder.write("a.edf", edf_file(two_signals, 3)));
  EXPECT_EQ(codes_of(r.warnings), "no_wave");  // 4 and 2 Hz show no beat
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_EQ(r.channels[0].name, "ECG II");
  EXPECT_EQ(r.channels[0].unit, "mV");
  EXPECT_EQ(r.channels[0].rate, Hertz{4});
  EXPECT_EQ(r.channels[1].rate, Hertz{2});
  ASSERT_EQ(r.channels[0].samples.size(), 12u);
  // 20 units over 2000 steps: 0.01 a step
  EXPECT_FLOAT_EQ(r.channels[0].samples[11], 0.11F);
  EXPECT_FLOAT_EQ(r.channels[1].samples[5], 1.05F);
  EXPECT_DOUBLE_EQ(r.duration.value(), 3);
  EXPECT_EQ(r.clock_start, "2024-03-02T10:11:12");
  EXPECT_EQ(r.provenance.format, "edf");
}

TEST(Edf, IsRecognisedByContentWhateverItsName) {
  const ScratchFolder folder;
  EXPECT_EQ(read_recording(folder.write("a.csv", edf_file(two_signals, 2))).provenance.format, "edf");
}

TEST(Edf, LeavesTheAnnotationSignalOfEdfPlusOut) {
  const ScratchFolder folder;
  std::vector<EdfSignal> signals = two_signals;
  signals.insert(signals.begin() + 1, EdfSignal{"EDF Annotations", "", 16});
  const Recording r = read_recording(folder.write("a.edf", edf_file(signals, 3, "EDF+C")));
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_EQ(r.channels[1].name, "PLETH");
  EXPECT_FLOAT_EQ(r.channels[1].samples[0], 2.0F);
}

TEST(Edf, ScalesTheRateByTheLengthOfADataRecord) {
  const ScratchFolder folder;
  const Recording r = read_recording(folder.write("a.edf", edf_file({{"ecg", "mV", 100}}, 3, "", -2, "0.4")));
  EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 250);
  EXPECT_EQ(r.channels[0].kind, ChannelKind::ecg);
  EXPECT_DOUBLE_EQ(r.duration.value(), 1.2);
}

TEST(Edf, RefusesDiscontinuousFiles) {
  const ScratchFolder folder;
  std::vector<EdfSignal> signals = two_signals;
  signals.push_back({"EDF Annotations", "", 16});
  const auto path = folder.write("a.edf", edf_file(signals, 3, "EDF+D"));
  expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "a.edf", "discontinuous (EDF+D)");
}

TEST(Edf, KeepsWholeDataRecordsOfAFileCutShort) {
  const ScratchFolder folder;
  const std::string whole = edf_file(two_signals, 3);
  const Recording r = read_recording(folder.write("a.edf", whole.substr(0, whole.size() - 5)));
  EXPECT_EQ(codes_of(r.warnings), "data_short no_wave");
  EXPECT_NE(r.warnings[0].message.find("2 whole data records"), std::string::npos) << r.warnings[0].message;
  EXPECT_EQ(r.channels[0].samples.size(), 8u);
  EXPECT_FLOAT_EQ(r.channels[0].samples[7], 0.07F);
  // a recorder that lost power leaves -1 for the number of records
  const Recording open = read_recording(folder.write("b.edf", edf_file(two_signals, 3, "", -1)));
  EXPECT_EQ(codes_of(open.warnings), "data_short no_wave");
  EXPECT_EQ(open.channels[0].samples.size(), 12u);
}

TEST(Edf, IgnoresASurplus) {
  const ScratchFolder folder;
  const Recording r = read_recording(folder.write("a.edf", edf_file(two_signals, 3, "", 2)));
  EXPECT_EQ(codes_of(r.warnings), "data_surplus no_wave");
  EXPECT_EQ(r.channels[0].samples.size(), 8u);
}

TEST(Edf, RefusesBrokenHeadersWithPlaceAndRule) {
  const ScratchFolder folder;
  const std::string whole = edf_file(two_signals, 3);
  const auto refused = [&](const std::string& bytes, const auto&... pieces) {
    const auto path = folder.write("a.edf", bytes);
    expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "a.edf", pieces...);
  };
  refused(whole.substr(0, 600), "ends inside its header of 768 bytes");
  refused(whole.substr(0, 770), "not one whole data record", "promises 3");
  std::string bad = whole;
  bad.replace(236, 8, "three   ");
  refused(bad, "byte 236", "value 'three   '");
  bad = whole;
  bad.replace(256 + 216 * 2, 8, "0       ");
  refused(bad, "byte 688", "1 or more");
  bad = whole;
  bad.replace(244, 8, "0       ");
  refused(bad, "byte 244", "longer than 0 s");
  bad.replace(244, 8, "1e-7    ");
  refused(bad, "byte 244", "without exponent");
}

TEST(Edf, IsReadFromSeveralThreadsAtOnce) {
  const ScratchFolder folder;
  const auto a = folder.write("a.edf", edf_file(two_signals, 50));
  const auto b = folder.write("b.edf", edf_file(two_signals, 70));
  std::vector<std::size_t> lengths(8);
  std::vector<std::thread> threads;
  for (std::size_t t = 0; t < lengths.size(); ++t)
    threads.emplace_back([&, t] {
      for (int i = 0; i < 20; ++i) lengths[t] = read_recording(t % 2 == 0 ? a : b).channels[0].samples.size();
    });
  for (std::thread& thread : threads) thread.join();
  for (std::size_t t = 0; t < lengths.size(); ++t) EXPECT_EQ(lengths[t], t % 2 == 0 ? 200u : 280u);
}

TEST(Edf, ReadsTheWristRecordings) {
  const auto data = open_data("exercise_wrist");
  if (!data) GTEST_SKIP() << "skipped: the wrist recordings are not here";
  const Recording r = read_recording(*data / "s3_run.edf");
  // Source: the file's own header: 15 signals, one data record of 308 s, 78,848 samples each, so 256 Hz.
  ASSERT_EQ(r.channels.size(), 15u);
  EXPECT_EQ(r.channels[0].name, "chest_ecg");
  EXPECT_EQ(r.channels[0].kind, ChannelKind::ecg);
  EXPECT_EQ(r.channels[1].name, "wrist_ppg");
  EXPECT_EQ(r.channels[1].kind, ChannelKind::pulse);
  EXPECT_EQ(r.channels[2].kind, ChannelKind::gyro);
  EXPECT_EQ(r.channels[5].kind, ChannelKind::acceleration);
  for (const Channel& c : r.channels) {
    EXPECT_EQ(c.rate, Hertz{256});
    EXPECT_EQ(c.samples.size(), 78848u);
  }
  EXPECT_EQ(codes_of(r.warnings), "");
  expect_refusal([&] { return find_channel(r, "wrist_low_noise_"); }, ErrorCode::usage, "more than one", "#6", "#7",
                 "#8");
}

}  // namespace
