#include "3_beats/viterbi_path.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace pulsewright::beats_stage {
namespace {

constexpr Hertz rate{100.0};
constexpr Seconds refractory{0.2};

/// A rhythm of 1 s: six nodes believed, of log-odds 3.
std::vector<PathNode> steady() {
  std::vector<PathNode> nodes;
  for (std::size_t k = 0; k < 6; ++k) nodes.push_back({100 * k, 3.0, true, 0});
  return nodes;
}
/// With another node, not believed yet, in its place in time.
std::vector<PathNode> steady_and(std::size_t at, double log_odds) {
  std::vector<PathNode> nodes = steady();
  const auto after = std::find_if(nodes.begin(), nodes.end(), [&](const PathNode& n) { return n.at > at; });
  nodes.insert(after, {at, log_odds, false, 0});
  return nodes;
}
std::vector<std::size_t> beats(const std::vector<PathNode>& nodes) {
  std::vector<std::size_t> at;
  for (const PathNode& node : nodes)
    if (node.beat) at.push_back(node.at);
  return at;
}
std::vector<std::size_t> best(std::vector<PathNode> nodes, const PathCosts& costs = {}) {
  choose_viterbi_path(nodes, rate, refractory, costs);
  return beats(nodes);
}
const std::vector<std::size_t> the_six{0, 100, 200, 300, 400, 500};

TEST(ViterbiPath, TakesARegularTrainAsItIs) { EXPECT_EQ(best(steady()), the_six); }

TEST(ViterbiPath, AnEarlyBeatPaysForLeavingTheRhythm) {
  // Half way between two beats both intervals are ln 2 = 0.693 early: 0.193 beyond the freedom of
  // 0.5, at 2 each, 0.77 together.
  EXPECT_EQ(best(steady_and(250, 0.7)), the_six);
  EXPECT_EQ(best(steady_and(250, 0.8)), (std::vector<std::size_t>{0, 100, 200, 250, 300, 400, 500}));
}

TEST(ViterbiPath, AMissingBeatPaysForItsLateInterval) {
  // Left out, the interval of 2 s is ln 2 late, 0.393 beyond the freedom of 0.3, at 5: 1.966. A
  // node that costs more is left out.
  std::vector<PathNode> nodes = steady();
  nodes[3].log_odds = -1.9;
  EXPECT_EQ(best(nodes), the_six);
  nodes[3].log_odds = -2.0;
  EXPECT_EQ(best(nodes), (std::vector<std::size_t>{0, 100, 200, 400, 500}));
  // Unless a heart may pause for less.
  nodes[3].log_odds = -1.9;
  EXPECT_EQ(best(nodes, PathCosts{.most_late = 1.8}), (std::vector<std::size_t>{0, 100, 200, 400, 500}));
}

TEST(ViterbiPath, ACrowdedIntervalPaysForWhatItLacks) {
  // 0.30 s after a beat: 0.06 s short of 0.36 at 10, 0.6; early by ln(1 / 0.3) = 1.204 and ln(1 /
  // 0.7) = 0.357, of which 0.704 pays 1.408. Together 2.008.
  EXPECT_EQ(best(steady_and(230, 2.0)), the_six);
  EXPECT_EQ(best(steady_and(230, 2.02)).size(), 7U);
}

TEST(ViterbiPath, NoTwoBeatsAreCloserThanTheRefractoryTime) {
  EXPECT_EQ(best(steady_and(215, 2.9)), the_six);
  const std::vector<std::size_t> moved{0, 100, 215, 300, 400, 500};
  EXPECT_EQ(best(steady_and(215, 3.1)), moved);  // the better of the two
}

TEST(ViterbiPath, ARegularRhythmGivesNoFreedomAndAnIrregularOneSome) {
  std::vector<PathNode> nodes = steady();
  std::vector<Rhythm> rhythm = rhythm_at(nodes, rate);
  ASSERT_EQ(rhythm.size(), 6U);
  EXPECT_NEAR(rhythm[3].log_period, 0.0, 1e-7);
  EXPECT_EQ(rhythm[3].irregularity, 0.0);
  for (std::size_t k = 1; k < 6; k += 2) nodes[k].at -= 20;  // intervals of 0.8 and 1.2 s in turn
  rhythm = rhythm_at(nodes, rate);
  EXPECT_NEAR(rhythm[3].irregularity, std::log(1.2 / 0.8), 1e-6);
  // 0.5 + 2 * 0.405 covers the half-way beat that a regular rhythm charged for.
  std::vector<PathNode> more = nodes;
  more.insert(more.begin() + 3, {240, 0.01, false, 0});
  EXPECT_EQ(best(more).size(), 7U);
}

TEST(ViterbiPath, WithoutBeatsTheRhythmIsSeventyFiveBeatsPerMinute) {
  std::vector<PathNode> nodes{{0, 1.0, false, 0}, {80, 1.0, false, 0}};
  EXPECT_NEAR(rhythm_at(nodes, rate)[0].log_period, std::log(0.8), 1e-12);
  EXPECT_EQ(best(nodes), (std::vector<std::size_t>{0, 80}));
}

TEST(ViterbiPath, AnIntervalOverAGapCostsNothing) {
  std::vector<PathNode> nodes = steady();
  for (std::size_t k = 3; k < 6; ++k) {
    nodes[k].at += 137;  // late by ln 2.37 = 0.863, which would cost 2.8
    nodes[k].stretch = 1;
  }
  nodes[3].log_odds = 0.1;
  EXPECT_EQ(best(nodes).size(), 6U);
  for (std::size_t k = 3; k < 6; ++k) nodes[k].stretch = 0;
  nodes[3].log_odds = -2.0;
  EXPECT_LT(best(nodes).size(), 6U);
}

TEST(ViterbiPath, NumbersStretchesByTheSamplesAtWhichSignalsResume) {
  std::vector<PathNode> nodes{{10}, {20}, {30}, {40}};
  number_stretches(nodes, {20, 35, 36});
  EXPECT_EQ(nodes[0].stretch, 0U);
  EXPECT_EQ(nodes[1].stretch, 1U);
  EXPECT_EQ(nodes[2].stretch, 1U);
  EXPECT_EQ(nodes[3].stretch, 3U);
}

TEST(ViterbiPath, OfNothingIsNothing) {
  EXPECT_TRUE(best({}).empty());
  EXPECT_TRUE(best({{0, -3.0, false, 0}, {100, -3.0, false, 0}}).empty());
}

}  // namespace
}  // namespace pulsewright::beats_stage
