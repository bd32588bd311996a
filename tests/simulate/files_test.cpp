#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "pulsewright/read.hpp"
#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

/// A folder of its own, emptied at the end.
class Folder {
 public:
  Folder() {
    path_ = std::filesystem::temp_directory_path() /
            ("pulsewright_" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
    std::filesystem::remove_all(path_);
    std::filesystem::create_directories(path_);
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  void put(const std::vector<NamedBytes>& files) const {
    for (const NamedBytes& file : files) std::ofstream(path_ / file.name, std::ios::binary) << file.bytes;
  }
  [[nodiscard]] std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

std::string bytes_of(const std::vector<NamedBytes>& files, const std::string& name) {
  for (const NamedBytes& file : files) {
    if (file.name == name) return file.bytes;
  }
  ADD_FAILURE() << name << " is missing";
  return {};
}

std::vector<std::vector<std::string>> rows(const std::string& bytes) {
  std::vector<std::vector<std::string>> table;
  std::istringstream lines(bytes);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream cells(line + ',');
    table.emplace_back();
    for (std::string cell; std::getline(cells, cell, ',');) table.back().push_back(cell);
  }
  return table;
}

Scenario plover() {
  Scenario s = stretched(named_scenario("stair-climb", "plover"), 60_s);
  s.rate = 125_hz;
  s.contact.planned = {{{5_s, 6_s}, DropOutForm::gap, ChannelKind::pulse}};
  return s;
}

void expect_same_samples(const Recording& read, const Simulation& made, double tolerance) {
  ASSERT_EQ(read.channels.size(), made.recording.channels.size());
  for (std::size_t c = 0; c < read.channels.size(); ++c) {
    const Channel& a = read.channels[c];
    const Channel& b = made.recording.channels[c];
    EXPECT_EQ(a.kind, b.kind) << a.name;
    EXPECT_NEAR(a.rate.value(), b.rate.value(), 1e-6);
    ASSERT_EQ(a.samples.size(), b.samples.size());
    for (std::size_t i = 0; i < a.samples.size(); ++i) {
      ASSERT_EQ(std::isnan(a.samples[i]), std::isnan(b.samples[i])) << a.name << ' ' << i;
      if (std::isnan(a.samples[i])) continue;
      ASSERT_NEAR(a.samples[i], b.samples[i], tolerance) << a.name << " " << i;
    }
  }
}

TEST(SimulationFiles, TheCsvReadsBackAsTheRecording) {
  const Simulation made = simulate(plover());
  const Folder folder;
  folder.put(simulation_files(made, "plover"));
  const Recording read = read_recording(folder / "plover.csv");
  expect_same_samples(read, made, 0.0006);  // three decimals
  EXPECT_NEAR(read.duration.value(), 60, 1e-6);
}

TEST(SimulationFiles, TheOpenRecordReadsBackAsTheRecording) {
  const Simulation made = simulate(plover());
  const Folder folder;
  folder.put(simulation_files(made, "plover", SimulationFormat::open_record));
  const Recording read = read_recording(folder / "plover");
  expect_same_samples(read, made, 1e-4);
  EXPECT_TRUE(read.warnings.empty()) << read.warnings.front().message;  // the checksums hold
}

TEST(SimulationFiles, TheAnnotationsAreTheTrueBeatsToHalfASample) {
  Scenario s = plover();
  s.heart.early.ventricular_per_minute = 10;
  s.phases = {{.name = "sitting", .duration = 60_s}};
  const Simulation made = simulate(s);
  const Folder folder;
  folder.put(simulation_files(made, "plover", SimulationFormat::open_record));
  const std::vector<Beat> read = read_beats(folder / "plover.atr").beats.candidates;
  const std::vector<Beat> truth = made.truth.ecg_train(s.rate).candidates;
  ASSERT_EQ(read.size(), truth.size());
  int ventricular = 0;
  for (std::size_t i = 0; i < read.size(); ++i) {
    EXPECT_NEAR(read[i].time.value(), truth[i].time.value(), 0.5 / 125 + 1e-9);
    EXPECT_EQ(read[i].label, truth[i].label);
    ventricular += read[i].label == BeatLabel::ventricular ? 1 : 0;
  }
  EXPECT_GT(ventricular, 2);
}

TEST(SimulationFiles, TheBeatsFileReadsBackToTheMicrosecond) {
  const Simulation made = simulate(plover());
  const Folder folder;
  folder.put(simulation_files(made, "plover"));
  const std::vector<Seconds> read = read_beats(folder / "plover_truth_beats.csv").beats.times();
  const std::vector<Seconds> truth = made.truth.ecg_train(125_hz).times();
  ASSERT_EQ(read.size(), truth.size());
  for (std::size_t i = 0; i < read.size(); ++i) EXPECT_NEAR(read[i].value(), truth[i].value(), 6e-7);
}

TEST(SimulationFiles, BeatsAreSystolicPeaksWhereThereIsNoEcg) {
  Scenario s = plover();
  s.ecg.reset();
  const Simulation made = simulate(s);
  const auto files = simulation_files(made, "clip");
  const auto beats = rows(bytes_of(files, "clip_truth_beats.csv"));
  const auto pulse = rows(bytes_of(files, "clip_truth_pulse.csv"));
  EXPECT_EQ(pulse[0], (std::vector<std::string>{"time_s", "label", "delay_s"}));
  ASSERT_EQ(beats.size(), pulse.size());
  ASSERT_EQ(beats.size(), made.truth.pulse_train(s.rate).candidates.size() + 1);
  for (std::size_t i = 0; i < beats.size(); ++i) EXPECT_EQ(beats[i][0], pulse[i][0]);
}

TEST(SimulationFiles, RatesAreThoseOfTheBeatsInFullWindows) {
  Scenario s = quiet(61, 50);
  s.heart.resting_sdnn_ms = 0;
  s.phases[0].target = 90_bpm;
  const auto table = rows(bytes_of(simulation_files(simulate(s), "s"), "s_truth_rate.csv"));
  EXPECT_EQ(table[0], (std::vector<std::string>{"start_s", "end_s", "bpm"}));
  ASSERT_EQ(table.size(), 1U + 27U);  // windows of 8 s from 0, 2, ..., 52
  for (std::size_t i = 1; i < table.size(); ++i) {
    EXPECT_EQ(std::stod(table[i][0]), 2.0 * static_cast<double>(i - 1));
    EXPECT_NEAR(std::stod(table[i][2]), 90, 0.05);
  }
}

TEST(SimulationFiles, TheTruthDocumentHoldsWhatWasPutIn) {
  const Simulation made = simulate(plover());
  const auto truth = nlohmann::json::parse(bytes_of(simulation_files(made, "plover"), "plover_truth.json"));
  EXPECT_EQ(truth["schema_version"], 1);
  EXPECT_EQ(truth["beat_count"], made.truth.ecg_train(125_hz).candidates.size());
  EXPECT_EQ(truth["phases"].size(), made.scenario.phases.size());
  EXPECT_EQ(truth["drop_outs"].size(), made.truth.drop_outs.size());
  EXPECT_EQ(truth["loose_spells"].size(), made.truth.artefacts.size());
  EXPECT_EQ(truth["provenance"]["options"]["heart"]["resting_bpm"], 70.0);
  EXPECT_EQ(truth["provenance"]["options"]["seed"], 1);
}

TEST(SimulationFiles, ARecordNeedsAConverterAndAUniformClock) {
  Scenario s = quiet(2);
  EXPECT_THROW(static_cast<void>(simulation_files(simulate(s), "s", SimulationFormat::open_record)), Error);
  s = plover();
  s.clock.stamps = 0_s;
  EXPECT_THROW(static_cast<void>(simulation_files(simulate(s), "s", SimulationFormat::open_record)), Error);
  s = plover();
  s.pulse->converter = Converter{.bits = 24, .low = 0, .high = 1024};
  EXPECT_THROW(static_cast<void>(simulation_files(simulate(s), "s", SimulationFormat::open_record)), Error);
}

}  // namespace
}  // namespace pulsewright
