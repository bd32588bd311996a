#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

TargetZone example_target() {
  TargetZone target;
  target.low = BeatsPerMinute{149.4};
  target.high = BeatsPerMinute{184.15};
  target.maximum = {BeatsPerMinute{205}, 11.0, MaximumSource::fox_1971};
  target.resting = RestingRate{BeatsPerMinute{66}, RestingSource::given, std::nullopt};
  return target;
}

bool stands_in(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

TEST(TargetPage, SaysTheBandInWholeBeatsWithItsRuleAndCautions) {
  const std::string page = target_text(example_target(), Person{});
  EXPECT_TRUE(stands_in(page, "149 to 184 beats/min")) << page;
  EXPECT_TRUE(stands_in(page, "Karvonen et al. 1957")) << page;
  EXPECT_TRUE(stands_in(page, "Not a medical device")) << page;
  EXPECT_TRUE(stands_in(page, "licensed professional")) << page;
}

TEST(TargetPage, CountsByHandOnlyWholeBeatsInsideTheBand) {
  // 15 s: 149 / 4 = 37.25 and 184 / 4 = 46, so 38 to 46; 10 s: 149 / 6 = 24.8 and 184 / 6 = 30.7, so 25 to 30 (common practice: x 4, x 6).
  const std::string page = target_text(example_target(), Person{});
  EXPECT_TRUE(stands_in(page, "25 to 30 beats in 10 s")) << page;
  EXPECT_TRUE(stands_in(page, "38 to 46 beats in 15 s")) << page;
}

TEST(EffortPage, KeepsItsRowsAlignedAndItsLinesShort) {
  Effort effort;
  effort.person.code = "plover";
  effort.duration_us = 600'000'000;
  effort.unmeasured_us = 60'000'000;
  effort.category_us = {100'000'000, 100'000'000, 140'000'000, 150'000'000, 50'000'000};
  effort.target = example_target();
  effort.below_target_us = 400'000'000;
  effort.in_target_us = 120'000'000;
  effort.above_target_us = 20'000'000;
  const std::string page = effort_text(effort);
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(line.size(), 80U) << line;
    EXPECT_TRUE(line.empty() || line.back() != ' ') << line;
  }
  EXPECT_TRUE(stands_in(page, "near-maximal")) << page;
  EXPECT_TRUE(stands_in(page, "not measured")) << page;
  EXPECT_TRUE(stands_in(page, "Not a medical device")) << page;
}

TEST(RatePage, SumsUpALongSeriesInAtMostAFewDozenLines) {
  RateSeries rates;
  rates.duration = Seconds{1800};
  for (int i = 0; i * 2 + 8 <= 1800; ++i)
    rates.windows.push_back({{Seconds{2.0 * i}, Seconds{2.0 * i + 8}},
                             BeatsPerMinute{70.0 + i % 7},
                             BeatsPerMinute{69},
                             BeatsPerMinute{78},
                             0.99,
                             RateMethod::beats});
  const std::string page = rate_text(rates);
  EXPECT_LT(std::count(page.begin(), page.end(), '\n'), 30) << page;
}

}  // namespace
}  // namespace pulsewright
