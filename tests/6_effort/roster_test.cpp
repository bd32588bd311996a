/// Rosters and session sheets: what they say, and every fault by line.
#include "pulsewright/roster.hpp"

#include <algorithm>

#include "pulsewright/intensity.hpp"
#include "scratch_folder.hpp"

namespace pulsewright {
namespace {

using RosterFiles = ScratchFolder;
using SheetFiles = ScratchFolder;
using SchemeFiles = ScratchFolder;

void expect_holds(const std::string& text, const std::string& part) {
  EXPECT_NE(text.find(part), std::string::npos) << text << "\nlacks: " << part;
}

TEST_F(RosterFiles, AreReadWithByteOrderMarkSemicolonsDecimalCommaAndEmptyCells) {
  const auto path = write("r.csv",
                          "\xef\xbb\xbf"
                          "Code;age_years;sex;resting_bpm;maximum_bpm;ceiling_bpm;exercise\r\n"
                          "# the club\r\n"
                          "wren;15,5;female;66;;;\r\n"
                          "\r\n"
                          "heron;;;;198;170;wheelchair\r\n"
                          ";;;;;;\r\n");
  const Roster roster = read_roster(path);
  ASSERT_EQ(roster.people.size(), 2u);
  EXPECT_DOUBLE_EQ(*roster.people[0].age_years, 15.5);
  EXPECT_EQ(roster.people[0].sex, Sex::female);
  EXPECT_EQ(roster.people[0].resting, 66_bpm);
  EXPECT_FALSE(roster.people[0].measured_maximum || roster.people[0].own_ceiling);
  EXPECT_EQ(roster.find("heron")->measured_maximum, 198_bpm);
  EXPECT_EQ(roster.find("heron")->own_ceiling, 170_bpm);
  EXPECT_EQ(roster.find("heron")->exercise, Exercise::wheelchair);
  EXPECT_EQ(roster.find("plover"), nullptr);
  EXPECT_TRUE(roster.warnings.empty());
  EXPECT_EQ(roster.provenance.sha256.size(), 64u);
}

TEST_F(RosterFiles, AsJsonSayTheSame) {
  const Roster roster =
      read_roster(write("r.json", R"( {"people": [{"code": "wren", "age_years": 15, "resting_bpm": 66},
    {"code": "heron", "sex": "male", "age_years": null}]})"));
  ASSERT_EQ(roster.people.size(), 2u);
  EXPECT_EQ(roster.people[0].resting, 66_bpm);
  EXPECT_FALSE(roster.people[1].age_years);
  EXPECT_EQ(roster.people[1].sex, Sex::male);
}

TEST_F(RosterFiles, TellEveryFaultAtOnceByLine) {
  const auto path = write("r.csv",
                          "code,age_years,sex,resting_bpm,maximum_bpm,ceiling_bpm,exercise\n"
                          "wren,old,female,66,,,\n"      // 2: no age
                          "heron,-3,x,66,,,\n"           // 3: an age and a sex
                          "plover,15,,210,,,\n"          // 4: a resting rate out of range
                          "siskin,15,,100,95,,\n"        // 5: resting above the maximum
                          "wren,14,,70,,,\n"             // 6: twice
                          ",14,,70,,,\n"                 // 7: no code
                          "Peter Pan,14,,70,,,\n"        // 8: a name
                          "dipper,14,,70,400,9,kayak\n"  // 9: three faults
                          "robin,120,,110,,,\n");        // 10: above 220 - age
  const std::string said = refusal([&] { (void)read_roster(path); });
  for (const char* part :
       {":2: column 'age_years': value 'old'", ":3: column 'age_years': value '-3'", ":3: column 'sex': value 'x'",
        ":4: column 'resting_bpm': value '210'", ":5: column 'resting_bpm': value '100'",
        "not below the measured maximum of 95", ":6: column 'code': value 'wren': stands on line 2 already",
        ":7: column 'code'", ":8: column 'code': value 'Peter Pan'", ":9: column 'maximum_bpm': value '400'",
        ":9: column 'ceiling_bpm': value '9'", ":9: column 'exercise': value 'kayak'",
        ":10: column 'resting_bpm': value '110'", "220 - age"})
    expect_holds(said, part);
}

TEST_F(RosterFiles, AgesFourAndNinetyAreTaken) {
  const Roster roster = read_roster(write("r.csv", "code,age_years\nwren,4\nheron,90\n"));
  EXPECT_EQ(roster.people.size(), 2u);
}

TEST_F(RosterFiles, ThatAreNoneAreRefusedWithWhatIsMissing) {
  expect_holds(refusal([&] { (void)read_roster(write("a.csv", "person,age\nwren,15\n")); }),
               "a roster has a column code");
  expect_holds(refusal([&] { (void)read_roster(write("b.csv", "")); }), "no line that names columns");
  expect_holds(refusal([&] { (void)read_roster(write("c.csv", "code,age_years\n")); }), "holds no person");
  expect_holds(refusal([&] { (void)read_roster(write("d.csv", "code,age_years\nwren,15,66,5\n")); }), ":2");
  expect_holds(refusal([&] { (void)read_roster(write("e.csv", "code,code\nwren,heron\n")); }), "names two columns");
  expect_holds(refusal([&] { (void)read_roster(write("f.csv", "code,age_years\n\"wren,15\n")); }), "a quote is opened");
  expect_holds(refusal([&] { (void)read_roster(write("g.json", "{\"people\": [")); }), "byte");
  expect_holds(refusal([&] { (void)read_roster(write("h.json", "{\"pupils\": []}")); }), "people");
  expect_holds(refusal([&] {
                 (void)read_roster(write(
                     "i.json", "{\"people\": [{\"code\": \"wren\"}, {\"code\": \"wren\", \"age_years\": \"x\"}]}"));
               }),
               "person 2");
  expect_holds(refusal([&] { (void)read_roster(folder_ / "absent.csv"); }), "absent.csv");
  expect_holds(refusal([&] { (void)read_roster(write("j.csv", std::string("code\0\n", 6))); }), "no text");
}

TEST_F(RosterFiles, WithNamesAreReadAndAskedToBeWithout) {
  const Roster roster = read_roster(write("r.csv", "code,first_name,shoe\nwren,W,38\n"));
  ASSERT_EQ(roster.warnings.size(), 2u);
  EXPECT_EQ(roster.warnings[0].code, "roster_holds_names");
  EXPECT_EQ(roster.warnings[1].code, "unknown_column");
}

TEST_F(SheetFiles, PlaceEachPersonsStretchOnTheCommonClock) {
  const auto path = write("s.csv",
                          "code,file,channel,from,to,file_begins,activity,exertion,place\n"
                          "wren,clip.csv,pulse,60,180,10:00:00,relay,15,1\n"
                          "heron,clip.csv,,10:03:30,10:06,10:00:00,relay,,2\n"
                          "plover,night.csv,,0:00:30,,23:59:30,,,\n");
  const SessionSheet sheet = read_session_sheet(path);
  ASSERT_EQ(sheet.entries.size(), 3u);
  EXPECT_EQ(sheet.performance.name, "place");
  EXPECT_FALSE(sheet.performance.more_is_better);
  EXPECT_EQ(sheet.entries[0].file, folder_ / "clip.csv");
  EXPECT_EQ(sheet.entries[0].exertion, 15);
  EXPECT_EQ(stretch_of(sheet.entries[0], std::nullopt).start, 60_s);
  EXPECT_EQ(stretch_of(sheet.entries[1], std::nullopt).start, 210_s);
  EXPECT_EQ(stretch_of(sheet.entries[1], std::nullopt).end, 360_s);
  EXPECT_EQ(stretch_of(sheet.entries[2], std::nullopt).start, 60_s);  // past midnight
  EXPECT_FALSE(stretch_of(sheet.entries[2], std::nullopt).end);
  EXPECT_DOUBLE_EQ(*begins_at(sheet.entries[0], std::nullopt), 36000.0);
}

TEST_F(SheetFiles, ARecordingsOwnClockServesWhereTheSheetHasNone) {
  const SessionSheet sheet = read_session_sheet(write("s.csv", "code,file,from\nwren,clip.csv,10:02:00\n"));
  EXPECT_EQ(stretch_of(sheet.entries[0], "2026-03-01T10:00:00").start, 120_s);
  expect_holds(refusal([&] { (void)stretch_of(sheet.entries[0], std::nullopt); }), "line 2");
}

TEST_F(SheetFiles, TellEveryFaultByLine) {
  const auto path = write("s.csv",
                          "code,file,from,to,exertion,laps\n"
                          "wren,,,,,\n"
                          "two words,a.csv,,,,\n"
                          "heron,a.csv,90,60,,\n"
                          "heron,a.csv,noon,,21,many\n");
  const std::string said = refusal([&] { (void)read_session_sheet(path); });
  for (const char* part : {":2: column 'file'", ":3: column 'code'", ":4: column 'to'", ":5: column 'from'",
                           ":5: column 'exertion'", ":5: column 'laps'"})
    expect_holds(said, part);
  expect_holds(refusal([&] { (void)read_session_sheet(write("t.csv", "code,file,laps,place\nwren,a.csv,1,2\n")); }),
               "both laps and place");
  expect_holds(refusal([&] { (void)read_session_sheet(write("u.csv", "code\nwren\n")); }), "column file");
}

TEST_F(SchemeFiles, AreReadAsTableAndAsJsonAndRefusedWhenBoundsDoNotRise) {
  const IntensityScheme table =
      read_scheme(write("club.csv", "category,from_percent,of\neasy,0,reserve\nsteady,50,reserve\nhard,75,reserve\n"));
  EXPECT_EQ(table.name, "club");
  EXPECT_TRUE(table.from_reserve);
  EXPECT_FALSE(category_of(table, -0.01));
  EXPECT_EQ(category_of(table, 0.5), 1u);
  EXPECT_EQ(category_of(table, 0.4999), 0u);
  EXPECT_EQ(category_of(table, 1.3), 2u);
  const IntensityScheme json =
      read_scheme(write("m.json", R"({"of": "maximum", "categories": [{"category": "low", "from_percent": 55}]})"));
  EXPECT_FALSE(json.from_reserve);
  EXPECT_FALSE(category_of(json, 0.54));
  expect_holds(
      refusal([&] { (void)read_scheme(write("x.csv", "category,from_percent,of\na,50,reserve\nb,40,reserve\n")); }),
      ":3");
  expect_holds(
      refusal([&] { (void)read_scheme(write("y.csv", "category,from_percent,of\na,50,reserve\nb,60,maximum\n")); }),
      ":3");
  expect_holds(refusal([&] { (void)read_scheme(write("z.json", R"({"of": "power", "categories": []})")); }),
               "reserve or maximum");
}

}  // namespace
}  // namespace pulsewright
