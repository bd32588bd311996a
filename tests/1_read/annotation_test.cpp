// Annotation files of the open record format.
#include <gtest/gtest.h>

#include <set>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

Annotation annotation(std::int64_t sample, int code) { return {SampleIndex{sample}, code, 0, 0, 0, {}}; }

void expect_same(const std::vector<Annotation>& a, const std::vector<Annotation>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].sample, b[i].sample) << i;
    EXPECT_EQ(a[i].code, b[i].code) << i;
    EXPECT_EQ(a[i].subtype, b[i].subtype) << i;
    EXPECT_EQ(a[i].channel, b[i].channel) << i;
    EXPECT_EQ(a[i].number, b[i].number) << i;
    EXPECT_EQ(a[i].text, b[i].text) << i;
  }
}

TEST(Annotations, ReadBytesWorkedOutByHand) {
  const ScratchFolder folder;
  // 18 samples on, code 28 (28 * 1024 + 18 = 0x7012); text of 3 bytes (63 * 1024 + 3 = 0xFC03), padded; 59 on, code 1;
  // skip 0x00010002 = 65538, high half first (59 * 1024 = 0xEC00); 0 on, code 5; subtype 1; channel 1; number 2; end
  const std::string bytes(
      "\x12\x70\x03\xFC(N\0\0\x3B\x04\x00\xEC\x01\x00\x02\x00\x00\x14\x01\xF4\x01\xF8\x02\xF0\x05\x04\0\0", 28);
  const auto got = read_annotations(folder.write("r.atr", bytes));
  std::vector<Annotation> expected{annotation(18, 28), annotation(77, 1), annotation(65615, 5), annotation(65620, 1)};
  expected[0].text = std::string("(N\0", 3);
  expected[2].subtype = 1;
  expected[2].channel = expected[3].channel = 1;  // channel and number stay until they change
  expected[2].number = expected[3].number = 2;
  expect_same(got, expected);
}

TEST(Annotations, RoundTripEveryField) {
  const ScratchFolder folder;
  std::vector<Annotation> all{annotation(0, 22),           annotation(0, 1),           annotation(1023, 2),
                              annotation(2047, 49),        annotation(2047 + 1024, 5), annotation(5'000'000'000, 41),
                              annotation(5'000'000'001, 1)};
  all[0].text = "## odd";
  all[1].text = std::string(255, 'x');
  all[2].subtype = -128;
  all[3].number = -5;
  all[4].channel = 255;
  all[5].subtype = 127;
  expect_same(read_annotations(folder.write("r.atr", annotation_bytes(all))), all);
  expect_same(read_annotations(folder.write("none.atr", annotation_bytes({}))), {});
}

TEST(Annotations, WriteBackThe48PublishedFilesByteForByte) {
  const auto data = open_data("arrhythmia");
  if (!data) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(*data)) {
    if (entry.path().extension() != ".atr") continue;
    std::ifstream in{entry.path(), std::ios::binary};
    const std::string original{std::istreambuf_iterator<char>{in}, {}};
    EXPECT_TRUE(annotation_bytes(read_annotations(entry.path())) == original) << entry.path().filename();
    ++files;
  }
  EXPECT_EQ(files, 48);
}

TEST(Annotations, RefuseEveryTruncationWithItsByte) {
  const ScratchFolder folder;
  std::vector<Annotation> all{annotation(5, 1), annotation(70000, 5)};
  all[1].text = "abc";
  const std::string bytes = annotation_bytes(all);
  for (std::size_t length = 1; length < bytes.size(); ++length) {
    const auto path = folder.write("cut.atr", bytes.substr(0, length));
    expect_refusal([&] { return read_annotations(path); }, ErrorCode::unreadable, "cut.atr",
                   "byte " + std::to_string(length), "cut short");
  }
  const auto empty = folder.write("empty.atr", "");
  expect_refusal([&] { return read_annotations(empty); }, ErrorCode::unreadable, "empty.atr", "is empty");
}

TEST(Annotations, RefuseCodesThatDoNotExist) {
  const ScratchFolder folder;
  const auto code50 = folder.write("a.atr", std::string("\x01\xC8\0\0", 4));
  expect_refusal([&] { return read_annotations(code50); }, ErrorCode::unreadable, "byte 0", "value '50'", "1 to 49");
  const auto stray = folder.write("b.atr", std::string("\x01\xF4\0\0", 4));
  expect_refusal([&] { return read_annotations(stray); }, ErrorCode::unreadable, "byte 0", "modifier");
}

TEST(Annotations, RefuseToWriteWhatTheFormatCannotHold) {
  const auto refused = [](const Annotation& a, const char* piece) {
    expect_refusal(
        [&] {
          return annotation_bytes({annotation(10, 1), a});
        },
        ErrorCode::contract, "annotation 2", piece);
  };
  refused(annotation(9, 1), "must not decrease");
  refused(annotation(10, 0), "1 to 49");
  refused(annotation(10, 50), "1 to 49");
  Annotation a = annotation(10, 1);
  a.text = std::string(256, 'x');
  refused(a, "255 bytes");
  a = annotation(10, 1);
  a.subtype = 128;
  refused(a, "subtype");
}

TEST(Annotations, KnowWhichCodesAreBeatsAndWhatKind) {
  // Source: annot(5) of the physionet.org manual
  const std::set<int> beats{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 25, 30, 34, 35, 38, 41};
  for (int code = -1; code < 64; ++code) {
    EXPECT_EQ(is_beat_code(code), beats.count(code) == 1) << code;
    EXPECT_EQ(label_of_code(code) != BeatLabel::unlabelled, beats.count(code) == 1) << code;
  }
  EXPECT_EQ(label_of_code(1), BeatLabel::normal);
  EXPECT_EQ(label_of_code(5), BeatLabel::ventricular);
  EXPECT_EQ(label_of_code(8), BeatLabel::supraventricular);
  EXPECT_EQ(label_of_code(6), BeatLabel::fusion);
  EXPECT_EQ(label_of_code(12), BeatLabel::paced);
  EXPECT_EQ(label_of_code(13), BeatLabel::unclassifiable);
}

}  // namespace
