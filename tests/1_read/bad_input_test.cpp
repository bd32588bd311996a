// Input that no one can read, or that would take forever: a clear answer at once.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <random>

#include "1_read/open_data.hpp"
#include "1_read/record_writer.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

constexpr auto unreadable = ErrorCode::unreadable;
constexpr std::uintmax_t ten_gigabytes = 10'000'000'000;

TEST(BadInput, RefusesAnEmptyFile) {
  const ScratchFolder folder;
  const auto path = folder.write("log.csv", "");
  expect_refusal([&] { return read_recording(path); }, unreadable, "log.csv", "is empty");
  const auto blank = folder.write("blank.csv", "\n\n  \n");
  expect_refusal([&] { return read_recording(blank); }, unreadable, "blank.csv", "blank lines");
  const auto words = folder.write("words.csv", "only words\nand more words\n");
  expect_refusal([&] { return read_recording(words); }, unreadable, "words.csv:1", "only words", "no rows of numbers");
  const auto header = folder.write("header.csv", "time_s,ecg\n");
  expect_refusal([&] { return read_recording(header); }, unreadable, "header.csv", "no rows of numbers");
}

TEST(BadInput, RefusesAPathThatDoesNotExist) {
  const ScratchFolder folder;
  expect_refusal([&] { return read_recording(folder.path() / "nothing.csv"); }, unreadable, "nothing.csv",
                 "No such file");
  expect_refusal([&] { return read_beats(folder.path() / "nothing.atr"); }, unreadable, "nothing.atr");
  expect_refusal([&] { return read_annotations(folder.path() / "nothing.atr"); }, unreadable, "nothing.atr");
  expect_refusal([&] { return read_intervals(folder.path() / "nothing", IntervalUnit::seconds); }, unreadable,
                 "nothing");
  expect_refusal([&] { return read_spans(folder.path() / "nothing", std::nullopt); }, unreadable, "nothing");
  expect_refusal([&] { return sha256_of_file(folder.path() / "nothing"); }, unreadable, "nothing");
}

TEST(BadInput, RefusesAFolderAndADevice) {
  const ScratchFolder folder;
  expect_refusal([&] { return read_recording(folder.path()); }, unreadable, folder.path().string(), "is a folder");
  expect_refusal([&] { return sha256_of_file(folder.path()); }, unreadable, folder.path().string());
  expect_refusal([&] { return read_recording("/dev/zero"); }, unreadable, "/dev/zero", "neither a file nor a pipe");
}

TEST(BadInput, ReadsAPipe) {
  const ScratchFolder folder;
  const auto path = folder.path() / "pipe";
  ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
  const pid_t writer = ::fork();
  if (writer == 0) {
    const int fd = ::open(path.c_str(), O_WRONLY);
    const std::string text = "time_s,ecg\n0,1\n0.01,2\n0.02,3\n";
    const bool done = ::write(fd, text.data(), text.size()) == static_cast<ssize_t>(text.size());
    ::_exit(done ? 0 : 1);
  }
  EXPECT_EQ(read_recording(path).channels[0].samples.size(), 3u);
  int status = 0;
  ::waitpid(writer, &status, 0);
}

TEST(BadInput, RefusesAFileThatMayNotBeRead) {
  const ScratchFolder folder;
  const auto path = folder.write("secret.csv", "time_s,ecg\n0,1\n0.1,2\n");
  ::chmod(folder.path().c_str(), 0755);
  ::chmod(path.c_str(), 0);
  // root may read anything, so a child gives its rights up first
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && ::setuid(65534) != 0) ::_exit(2);
    const Refusal refusal = refusal_of([&] { return read_recording(path); });
    const bool clear = refusal.code == unreadable && refusal.message.find("secret.csv") != std::string::npos &&
                       refusal.message.find("Permission denied") != std::string::npos;
    ::_exit(clear ? 0 : 1);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  ASSERT_TRUE(WIFEXITED(status));
  if (WEXITSTATUS(status) == 2) GTEST_SKIP() << "skipped: root could not give its rights up here";
  EXPECT_EQ(WEXITSTATUS(status), 0);
}

TEST(BadInput, RefusesBinaryJunkWhateverItIsCalled) {
  const ScratchFolder folder;
  std::mt19937 random{11};
  for (int round = 0; round < 20; ++round) {
    std::string junk;
    for (int i = 0; i < 5000; ++i) junk += static_cast<char>(random() & 0xff);
    const auto path = folder.write("junk.csv", junk);
    const Refusal refusal = refusal_of([&] { return read_recording(path); });
    EXPECT_EQ(refusal.code, unreadable) << refusal.message;
    EXPECT_NE(refusal.message.find("junk.csv"), std::string::npos);
  }
  const auto gzip = folder.write("log.csv.gz", "\x1f\x8b\x08 rest");
  expect_refusal([&] { return read_recording(gzip); }, unreadable, "packed with gzip");
  const auto utf16 = folder.write("log.csv", std::string("\xff\xfet\0i\0", 6));
  expect_refusal([&] { return read_recording(utf16); }, unreadable, "UTF-16");
}

TEST(BadInput, RefusesWordsInANumberColumnByLineColumnValueAndRule) {
  const ScratchFolder folder;
  const auto refused = [&](const std::string& text, const auto&... pieces) {
    const auto path = folder.write("log.csv", text);
    expect_refusal([&] { return read_recording(path); }, unreadable, "log.csv", pieces...);
  };
  refused("time_s,ecg\n0,1\n0.1,bad\n0.2,3\n0.3,4\n", ":3:", "column 'ecg'", "value 'bad'",
          "a sample is a finite number");
  refused("time_s,ecg\n0,bad\n0.1,2\n0.2,3\n", ":2:", "column 'ecg'", "value 'bad'");
  refused("time_s,ecg\n0,1\n0.1,2\nlater,3\n0.3,4\n", ":4:", "column 'time_s'", "value 'later'");
  refused("time_s,ecg\n0,1\n0.1,2\n,3\n0.3,4\n", ":4:", "column 'time_s'", "value ''");
  refused("time_s,ecg\n0,1\n0.1,inf\n0.2,3\n", ":3:", "value 'inf'", "finite");
  refused("time_s,ecg\n0,1\n0.1,0x10\n0.2,3\n", ":3:", "value '0x10'");
  refused("time_s,ecg\n0,1\n0.1\n0.2,3\n", ":3:", "has 1 cells where the other rows have 2");
  refused("time_s,ecg\n0,1\n0.1,2,3\n0.2,3\n", ":3:", "more than the 2 cells");
  // far beyond the lines that are looked at to find the layout
  std::string longer = "time_s,ecg\n";
  for (int i = 0; i < 5000; ++i) longer += std::to_string(i) + "," + (i > 4000 && i % 2 == 1 ? "oops" : "1") + "\n";
  refused(longer, ":4003:", "column 'ecg'", "value 'oops'", "500 of 5000 lines cannot be read");
}

/// `count` rows 10 ms apart; row `i` is replaced by `odd` where `is_odd(i)`.
template <class Odd>
std::string rows_with(int count, bool times, const std::string& odd, Odd is_odd) {
  std::string text = times ? "time_ms,ecg\n" : "ecg,other\n";
  for (int i = 0; i < count; ++i)
    text += is_odd(i) ? odd + "\n"
                      : (times ? std::to_string(10 * i) + "," : std::string{"7,"}) + std::to_string(i % 50) + "\n";
  return text;
}

TEST(BadInput, TakesARareUnreadableLineAsAGapAndSaysHowManyAndWhereTheFirstIs) {
  const ScratchFolder folder;
  for (const char* odd : {"Brown-out detected, restarting", "12,oops", "12", "1,2,3", "###\x01"}) {
    const std::string text = rows_with(1000, true, odd, [](int i) { return i == 300 || i == 700; });
    const Recording r = read_recording(folder.write("log.csv", text));
    if (std::string{odd}.starts_with('#')) {  // a comment is no fault
      EXPECT_EQ(codes_of(r.warnings), "clock_gaps");
      continue;
    }
    EXPECT_EQ(codes_of(r.warnings), "unreadable_lines clock_gaps") << odd;
    const std::string& message = r.warnings[0].message;
    EXPECT_NE(message.find("log.csv:302:"), std::string::npos) << message;
    EXPECT_NE(message.find("2 of 1000 lines"), std::string::npos) << message;
    ASSERT_EQ(r.channels[0].samples.size(), 998u);
    EXPECT_DOUBLE_EQ(r.channels[0].times[300], 3.01);  // the time of row 301: the gap is seen
    EXPECT_DOUBLE_EQ(r.duration.value(), 10.0);
  }
}

TEST(BadInput, CountsAnUnreadableLineAsOneMissingSampleWhereThereAreNoTimes) {
  const ScratchFolder folder;
  ReadOptions options;
  options.rate = Hertz{100};
  const std::string text = rows_with(1000, false, "radio: lost packet", [](int i) { return i == 300; });
  const Recording r = read_recording(folder.write("log.csv", text), options);
  EXPECT_EQ(codes_of(r.warnings), "unreadable_lines");
  ASSERT_EQ(r.channels[0].samples.size(), 1000u);
  EXPECT_TRUE(std::isnan(r.channels[0].samples[300]));
  EXPECT_TRUE(std::isnan(r.channels[1].samples[300]));
  EXPECT_EQ(r.channels[1].samples[301], 1.0F);
  EXPECT_DOUBLE_EQ(r.duration.value(), 10.0);
}

TEST(BadInput, RefusesManyUnreadableLinesAndLongRunsOfThem) {
  const ScratchFolder folder;
  const auto many = folder.write("many.csv", rows_with(1000, true, "1,2,3", [](int i) { return i % 90 == 5; }));
  expect_refusal([&] { return read_recording(many); }, unreadable, "many.csv:7:", "12 of 1000 lines cannot be read",
                 "repair them");
  const auto run = folder.write("run.csv", rows_with(1000, true, "boot", [](int i) { return i >= 400 && i < 406; }));
  expect_refusal([&] { return read_recording(run); }, unreadable, "run.csv:402:", "up to 6 in a row");
  const auto five = folder.write("five.csv", rows_with(1000, true, "boot", [](int i) { return i >= 400 && i < 405; }));
  EXPECT_EQ(codes_of(read_recording(five).warnings), "unreadable_lines clock_gaps");
}

TEST(BadInput, TellsAResultOfOursFromARecordingAndSaysWhatReadsIt) {
  const ScratchFolder folder;
  const auto refused = [&](const std::string& text, const auto&... pieces) {
    const auto path = folder.write("given.csv", text);
    expect_refusal([&] { return read_recording(path); }, unreadable, "given.csv", pieces...);
  };
  refused("time_s,sample,confidence\n0.81,101,0.99\n1.62,203,0.99\n2.4,300,0.98\n", "list of beats", "--input beats");
  refused("time_s\n0.81\n1.62\n2.4\n", "list of beats");
  refused("start_s,end_s,bpm,low_bpm,high_bpm,confidence,method\n0,8,70,69,71,1,beats\n2,10,70,69,71,1,beats\n",
          "table of heart rates");
  refused("start_s,end_s,original_ms,verdict,corrected_ms\n0,1,1000,normal,1000\n1,2,1000,normal,1000\n",
          "table of judged intervals");
  const auto rates = folder.write("rate.csv", "start_s,end_s,bpm\n0,8,70\n2,10,70\n");
  expect_refusal([&] { return read_beats(rates); }, unreadable, "time_s", "table of heart rates");
  expect_refusal([&] { return read_intervals(rates, IntervalUnit::milliseconds); }, unreadable, "table of heart rates");
  const auto beats = folder.write("beats.csv", "time_s,sample,confidence\n0.81,101,0.99\n1.62,203,0.99\n");
  expect_refusal([&] { return read_intervals(beats, IntervalUnit::seconds); }, unreadable, "--input beats");
  const auto two = folder.write("two.csv", "rr,quality\n810,1\n790,1\n");
  expect_refusal([&] { return read_intervals(two, IntervalUnit::milliseconds); }, unreadable, "several columns");
}

TEST(BadInput, RefusesARecordingWhereBeatsShouldBe) {
  const ScratchFolder folder;
  const auto wave = folder.write("wave.csv", rows_with(500, true, "", [](int) { return false; }));
  expect_refusal([&] { return read_beats(wave); }, unreadable, "wave.csv", "time_s");
  std::string text = "time_s,pulse\n", course = "time_s,course_bpm\n", clean = "time_s,remark\n";
  for (int i = 0; i < 50; ++i) {
    text += "0." + std::to_string(10 + i) + ",1\n";
    course += std::to_string(i) + ",72.5\n";
    clean += std::to_string(i) + ",72.5\n";
  }
  const auto samples = folder.write("samples.csv", text);
  expect_refusal([&] { return read_beats(samples); }, unreadable, "0.01 s apart", "looks like a recording");
  const auto curve = folder.write("curve.csv", course);
  expect_refusal([&] { return read_beats(curve); }, unreadable, "curve of heart rates every 1 s");
  EXPECT_EQ(read_beats(folder.write("clean.csv", clean)).beats.candidates.size(),
            50u);  // a metronome's beats are beats
  folder.write("r.dat", encode(16, {1, 2}));
  const auto header = folder.write("r.hea", "r 1 100 2\nr.dat 16 1\n");
  expect_refusal([&] { return read_beats(header); }, unreadable, "is a recording");
  std::string counts;
  for (int i = 0; i < 50; ++i) counts += std::to_string(500 + 37 * i % 20) + "\n";
  const auto raw = folder.write("raw.txt", counts);
  expect_refusal([&] { return read_beats(raw, Hertz{100}); }, unreadable, "fall");
}

TEST(BadInput, NoticesIntervalsInTheOtherUnit) {
  const ScratchFolder folder;
  const auto ms = folder.write("ms.txt", "RR\n812\n790\n805\n");
  expect_refusal([&] { return read_intervals(ms, IntervalUnit::seconds); }, ErrorCode::usage, "ms.txt",
                 "values around 805 taken as s", "give --unit ms");
  const auto s = folder.write("s.txt", "0.812 0.790 0.805\n");
  expect_refusal([&] { return read_intervals(s, IntervalUnit::milliseconds); }, ErrorCode::usage, "values around 0.805",
                 "give --unit s");
  EXPECT_EQ(read_intervals(s, IntervalUnit::seconds).candidates.size(), 4u);
  EXPECT_EQ(read_intervals(folder.write("odd.txt", "10 20 30\n"), IntervalUnit::seconds).candidates.size(), 4u);
  expect_refusal([&] { return read_recording(ms); }, ErrorCode::usage, "Values around 805",
                 "--input intervals --unit ms");
  expect_refusal([&] { return read_recording(folder.write("s.csv", "0.812\n0.790\n0.805\n")); }, ErrorCode::usage,
                 "--input intervals --unit s");
}

TEST(BadInput, RefusesAZeroRate) {
  const ScratchFolder folder;
  const auto path = folder.write("log.csv", "ecg\n1\n2\n");
  for (const double rate : {0.0, -5.0, std::nan(""), static_cast<double>(INFINITY)}) {
    ReadOptions options;
    options.rate = Hertz{rate};
    expect_refusal([&] { return read_recording(path, options); }, ErrorCode::usage, "above 0");
  }
  folder.write("r.dat", encode(16, {1, 2}));
  folder.write("r.hea", "r 1 0 2\nr.dat 16 1\n");
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.hea:1", "value '0'", "above 0 Hz");
}

/// Makes a file of ten gigabytes of which only the start is there.
std::filesystem::path sparse(const ScratchFolder& folder, const std::string& name, const std::string& start) {
  const auto path = folder.write(name, start);
  std::filesystem::resize_file(path, ten_gigabytes);
  return path;
}

TEST(BadInput, AnswersAtOnceOnATenGigabyteSparseFile) {
  const ScratchFolder folder;
  std::filesystem::path zeros;
  try {
    zeros = sparse(folder, "zeros.csv", "");
  } catch (const std::filesystem::filesystem_error&) {
    GTEST_SKIP() << "skipped: this file system does not hold sparse files of 10 GB";
  }
  const auto begun = std::chrono::steady_clock::now();
  expect_refusal([&] { return read_recording(zeros); }, unreadable, "zeros.csv", "byte 0");
  const auto rows = sparse(folder, "rows.csv", "time_s,ecg\n0,1\n0.1,2\n0.2,3\n");
  const Recording cut = read_recording(rows);
  EXPECT_EQ(cut.channels[0].samples.size(), 3u);
  EXPECT_EQ(codes_of(cut.warnings), "zero_bytes_at_end");
  sparse(folder, "r.dat", encode(16, {1, 2}));
  folder.write("r.hea", "r 1 100 2\nr.dat 16 1\n");
  EXPECT_TRUE(warns(read_recording(folder.path() / "r").warnings, "data_surplus"));
  folder.write("r.hea", "r 1 100\nr.dat 16 1\n");  // all of it
  expect_refusal([&] { return read_recording(folder.path() / "r"); }, unreadable, "r.dat", "5000000000 x 1",
                 "1073741824 samples");
  const auto annotations = sparse(folder, "r.atr", "");
  EXPECT_TRUE(read_annotations(annotations).empty());  // it starts with the end mark
  const auto one_line = sparse(folder, "line.csv", "time_s,ecg\n0,1\n0.1,2\n0.2,3\n" + std::string(2 << 20, '7'));
  expect_refusal([&] { return read_recording(one_line); }, unreadable, "line.csv:5", "longer than 1 MiB");
  const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  EXPECT_LT(took, 10.0);  // generous: reading 10 GB once takes longer, and this reads none of it
}

}  // namespace
