#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "pulsewright/effort_report.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {
namespace {

constexpr Language every_language[] = {Language::english, Language::german, Language::spanish};

/// A short climb with a finger clip that comes off for a while.
Scenario short_climb() {
  Scenario scene;
  scene.name = "short climb";
  scene.seed = 11;
  scene.rate = Hertz{64};
  scene.phases = {{.name = "sit", .duration = Seconds{60}, .target = BeatsPerMinute{72}},
                  {.name = "climb", .duration = Seconds{120}, .target = BeatsPerMinute{150}}};
  scene.pulse = PulseSensor{};
  return scene;
}

Person wren() {
  Person person;
  person.code = "wren";
  person.age_years = 15;
  person.resting = BeatsPerMinute{66};
  return person;
}

/// A session from samples to effort, with what a report draws.
struct Session {
  Recording recording;
  ChosenSignals chosen;
  Analysis analysis;

  explicit Session(Recording made, const Person& person = wren(), const FindOptions& options = {})
      : recording(std::move(made)),
        chosen(choose_signals(recording, options)),
        analysis(analyze(find_beats(recording, chosen, options), person)) {}
  [[nodiscard]] SessionView view() const { return {analysis, &recording, &chosen}; }
};

Recording climb() { return simulate(short_climb()).recording; }

bool stands_in(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

int times_in(std::string_view text, std::string_view part) {
  int times = 0;
  for (std::size_t at = text.find(part); at != std::string_view::npos; at = text.find(part, at + 1)) ++times;
  return times;
}

std::string url_decoded(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      out += text[i];
      continue;
    }
    out += static_cast<char>(std::stoi(std::string(text.substr(i + 1, 2)), nullptr, 16));
    i += 2;
  }
  return out;
}

/// The CSV that a figure of the page offers.
std::string data_of(const std::string& page, const std::string& figure) {
  const std::size_t at = page.find("download=\"" + figure + ".csv\"");
  const std::size_t begin = page.find("charset=utf-8,", at) + std::string_view("charset=utf-8,").size();
  return url_decoded(std::string_view(page).substr(begin, page.find('"', begin) - begin));
}

TEST(SessionReport, SaysWhatItSaysInEachLanguageAndNamesItForTheBrowser) {
  const Session session(climb());
  EXPECT_TRUE(stands_in(session_report(session.view(), Language::english), "<html lang=\"en\">"));
  EXPECT_TRUE(stands_in(session_report(session.view(), Language::german), "Herzfrequenz im Verlauf"));
  EXPECT_TRUE(stands_in(session_report(session.view(), Language::spanish), "Frecuencia cardíaca en el tiempo"));
  EXPECT_EQ(language_of("de"), Language::german);
  EXPECT_FALSE(language_of("xx").has_value());
}

TEST(SessionReport, WritesDecimalCommasWhereTheLanguageHasThem) {
  const Session session(climb());
  const std::string sdnn = format_number(session.analysis.variability.sdnn_ms, 1);
  EXPECT_TRUE(stands_in(session_report(session.view(), Language::english), ">" + sdnn + "</data>"));
  std::string comma = sdnn;
  std::replace(comma.begin(), comma.end(), '.', ',');
  EXPECT_TRUE(stands_in(session_report(session.view(), Language::german), ">" + comma + "</data>"));
}

TEST(SessionReport, IsTheSameEveryTime) {
  const Session session(climb());
  EXPECT_EQ(session_report(session.view()), session_report(session.view()));
}

TEST(SessionReport, FetchesNothing) {
  const std::string page = session_report(Session(climb()).view());
  for (const char* attribute : {"src=\"", "href=\""})
    for (const char* place : {"http:", "https:", "//"})
      EXPECT_FALSE(stands_in(page, std::string(attribute) + place)) << attribute << place;
  EXPECT_TRUE(stands_in(page, "default-src &#39;none&#39;"));
}

TEST(SessionReport, EscapesHostileNamesEverywhere) {
  const std::string hostile = "</title><script>alert(1)</script>\"'><svg onload=alert(2)>";
  Recording recording = climb();
  recording.channels[0].name = hostile;
  recording.channels[0].unit = hostile;
  recording.provenance.input = hostile;
  recording.warnings.push_back({hostile, hostile});
  recording.clock_start = hostile;
  Person person = wren();
  person.code = hostile;
  const Session session(recording, person);
  for (const Language language : every_language)
    for (const std::string& page :
         {session_report(session.view(), language), workings_page(session.view(), {}, language)}) {
      EXPECT_FALSE(stands_in(page, "<script>alert"));
      EXPECT_FALSE(stands_in(page, "<svg onload"));
      EXPECT_FALSE(stands_in(page, "\"'>"));
    }
  for (const FigureFile& figure : session_figures(session.view())) {
    EXPECT_FALSE(stands_in(figure.svg, "<script")) << figure.name;
    EXPECT_FALSE(stands_in(figure.svg, "<svg onload")) << figure.name;
  }
}

TEST(SessionReport, ReplacesBytesThatAreNoText) {
  Recording recording = climb();
  recording.channels[0].name = "clip \xFF\xC0\x80 \x01";
  const std::string page = session_report(Session(recording).view());
  EXPECT_TRUE(stands_in(page, "clip \xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD "));
  EXPECT_FALSE(stands_in(page, "\x01"));
}

TEST(SessionReport, LosesNoExtremeOfALongRecording) {
  Recording recording = climb();
  Channel& channel = recording.channels[0];
  const std::size_t at = channel.samples.size() / 3;
  channel.samples[at] = channel.samples[at] + 5000;
  const Session session(recording);
  const float highest =
      *std::max_element(session.chosen.signals[0].values.begin(), session.chosen.signals[0].values.end());
  const std::string data = data_of(session_report(session.view()), "overview");
  EXPECT_LE(std::count(data.begin(), data.end(), '\n'), 1001);
  EXPECT_TRUE(stands_in(data, format_number(static_cast<double>(highest), 6))) << highest;
}

TEST(SessionReport, ShowsTimeThatWasNotMeasuredAndDoesNotBridgeIt) {
  Recording recording = climb();
  Channel& channel = recording.channels[0];
  for (std::size_t i = 70 * 64; i < 110 * 64; ++i) channel.samples[i] = std::numeric_limits<float>::quiet_NaN();
  const Session session(recording);
  ASSERT_GT(session.analysis.effort.unmeasured_us, 20'000'000);
  for (const FigureFile& figure : session_figures(session.view()))
    if (figure.name == "rate") {
      EXPECT_TRUE(stands_in(figure.svg, "class=\"missing\""));
      EXPECT_EQ(times_in(figure.svg, "<path class=\"rate\""), 2);
    }
}

TEST(SessionReport, DrawsALongSeriesInColumnsThatKeepItsPeakAndItsGaps) {
  // An hour at 75 beats/min with half a minute at 160 and a minute without beats.
  BeatTrain train;
  train.duration = Seconds{3600};
  for (double time = 0.4; time < 3600; time += time >= 1800 && time < 1830 ? 0.375 : 0.8) {
    if (time >= 2400 && time < 2460) continue;
    Beat beat;
    beat.time = Seconds{time};
    beat.confidence = 0.99;
    train.candidates.push_back(beat);
  }
  train.unreadable = {{Seconds{2400}, Seconds{2460}}};
  const Analysis analysis = analyze(train, wren());
  ASSERT_GT(analysis.rates.windows.size(), 1500U);
  ASSERT_TRUE(analysis.effort.peak_rate.has_value());
  const std::string page = session_report({analysis});
  const std::string data = data_of(page, "rate");
  EXPECT_LE(std::count(data.begin(), data.end(), '\n'), 1001);
  EXPECT_TRUE(stands_in(data, "," + format_number(analysis.effort.peak_rate->value(), 2) + ","));
  const auto unmeasured = std::count_if(analysis.rates.windows.begin(), analysis.rates.windows.end(),
                                        [](const RateWindow& window) { return !window.rate.has_value(); });
  ASSERT_GT(unmeasured, 20);
  std::int64_t listed = 0;
  std::istringstream rows(data);
  std::string row;
  std::getline(rows, row);
  while (std::getline(rows, row)) listed += std::stoi(row.substr(row.rfind(',') + 1));
  EXPECT_EQ(listed, unmeasured);
}

TEST(SessionReport, ShowsTheFastChangesOfARateThatRisesAndFalls) {
  Scenario climb_with_rest = short_climb();
  climb_with_rest.phases.push_back({.name = "sit", .duration = Seconds{240}, .target = BeatsPerMinute{80}});
  const Session rising{simulate(climb_with_rest).recording};
  ASSERT_TRUE(stands_in(session_report(rising.view()), "figure-spectrum"));
  EXPECT_TRUE(stands_in(session_report(rising.view()), "Below 0.04 Hz the curve leaves the figure"));
  Scenario still = short_climb();
  still.phases = {{.name = "sit", .duration = Seconds{420}, .target = BeatsPerMinute{72}}};
  const Session resting{simulate(still).recording};
  ASSERT_TRUE(stands_in(session_report(resting.view()), "figure-spectrum"));
  EXPECT_FALSE(stands_in(session_report(resting.view()), "leaves the figure"));
}

TEST(SessionReport, HasNoFiguresOfASignalForAListOfBeats) {
  const Session session(climb());
  BeatTrain list = session.analysis.beats;
  list.source = BeatSource::file;
  const Analysis analysis = analyze(list, wren());
  const std::string page = session_report({analysis});
  EXPECT_FALSE(stands_in(page, "id=\"figure-overview\""));
  EXPECT_TRUE(stands_in(page, "id=\"figure-rate\""));
  EXPECT_THROW(static_cast<void>(workings_page({analysis})), Error);
  EXPECT_THROW(static_cast<void>(session_report({analysis, &session.recording})), Error);
}

TEST(SessionReport, StandsForARecordingWithoutAnyBeat) {
  Recording recording = climb();
  for (float& sample : recording.channels[0].samples) sample = 512;
  const Session session(recording);
  ASSERT_TRUE(session.analysis.beats.accepted().empty());
  for (const Language language : every_language) {
    EXPECT_TRUE(stands_in(session_report(session.view(), language), "id=\"figure-rate\""));
    EXPECT_TRUE(stands_in(workings_page(session.view(), {}, language), "id=\"figure-detection\""));
  }
}

TEST(SessionReport, LeavesOutEffortForSomebodyUnknown) {
  const Session session(climb(), Person{});
  const std::string page = session_report(session.view());
  EXPECT_FALSE(stands_in(page, "id=\"figure-intensity\""));
  EXPECT_FALSE(stands_in(page, "id=\"figure-target\""));
}

TEST(SessionReport, NamesWhatIsAbsentAndSaysEachReasonOnce) {
  const Session session(climb(), Person{});
  for (const Language language : every_language) {
    const std::string page = session_report(session.view(), language);
    EXPECT_EQ(times_in(page, "Neither a measured maximum"), 1);
    EXPECT_FALSE(stands_in(page, "category_s"));
  }
  EXPECT_TRUE(stands_in(session_report(session.view()), "time at each intensity, target, time below the target"));
}

TEST(SessionReport, ClaimsNoRestAndExplainsNoLineWhereNothingWasMeasured) {
  Recording recording = climb();
  for (float& sample : recording.channels[0].samples) sample = 512;
  const Session session(recording);
  const SessionEffort course = study_session(session.analysis.rates, wren());
  ASSERT_FALSE(course.phases.empty());
  const std::string page = session_report(session.view(), course);
  EXPECT_FALSE(stands_in(page, "Phases: "));
  EXPECT_FALSE(stands_in(page, "data-marks=\".rate\""));
}

TEST(SessionReport, TellsNoUnmeasuredTimeThatWouldRoundToNothing) {
  Session session(climb());
  session.analysis.effort.unmeasured_us = 400'000;
  EXPECT_TRUE(stands_in(session_report(session.view()), "could be measured throughout"));
  session.analysis.effort.unmeasured_us = 600'000;
  EXPECT_FALSE(stands_in(session_report(session.view()), "could be measured throughout"));
}

TEST(SessionReport, NamesTheUnitsThatItsTimeAxesHave) {
  const std::string page = session_report(Session(climb()).view());
  EXPECT_TRUE(stands_in(page, "from the start, min:s<"));
  EXPECT_FALSE(stands_in(page, "h:min:s"));
}

TEST(SessionReport, SaysThatReviewersChangedBeats) {
  Session session(climb());
  EXPECT_FALSE(stands_in(session_report(session.view()), "reviewed by hand"));
  session.analysis.beats.provenance.options = R"({"edits":[{"action":"remove","time_s":3.5}]})";
  EXPECT_TRUE(stands_in(session_report(session.view()), "reviewed by hand: 1 edit,"));
}

TEST(SessionReport, StandsForTheCausalForm) {
  FindOptions options;
  options.streaming = true;
  const Session session(climb(), wren(), options);
  EXPECT_TRUE(stands_in(session_report(session.view()), "id=\"figure-overview\""));
  EXPECT_TRUE(stands_in(workings_page(session.view(), options), "id=\"figure-detection\""));
}

/// The texts of a language's file.
std::map<std::string, std::string> texts_of(const std::string& file) {
  std::ifstream in(std::filesystem::path(PULSEWRIGHT_SOURCE_DIR) / "dsp/8_report/words" / file);
  std::map<std::string, std::string> texts;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    const std::size_t mark = line.find(" = ");
    EXPECT_NE(mark, std::string::npos) << file << ": " << line;
    EXPECT_TRUE(texts.emplace(line.substr(0, mark), line.substr(mark + 3)).second) << file << " says twice: " << line;
  }
  return texts;
}

/// The names in braces.
std::multiset<std::string> values_asked(const std::string& text) {
  std::multiset<std::string> names;
  for (std::size_t open = text.find('{'); open != std::string::npos; open = text.find('{', open + 1))
    names.insert(text.substr(open, text.find('}', open) - open + 1));
  return names;
}

TEST(ReportWords, EveryLanguageHasTheSameTextsAskingForTheSameValues) {
  const auto english = texts_of("en.txt");
  ASSERT_GT(english.size(), 100U);
  for (const char* file : {"de.txt", "es.txt"}) {
    const auto other = texts_of(file);
    EXPECT_EQ(other.size(), english.size());
    for (const auto& [key, text] : english) {
      const auto found = other.find(key);
      ASSERT_NE(found, other.end()) << file << " lacks " << key;
      EXPECT_FALSE(found->second.empty()) << file << ": " << key;
      EXPECT_EQ(values_asked(found->second), values_asked(text)) << file << ": " << key;
    }
  }
}

TEST(ReportWords, CautionsSayWhatTheTextPagesSay) {
  for (const auto& [key, text] : texts_of("en.txt")) {
    if (key.starts_with("caution.") && key != "caution.private") {
      EXPECT_TRUE(stands_in(cautions(), text)) << key;
    }
  }
}

}  // namespace
}  // namespace pulsewright
