#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

using Json = nlohmann::ordered_json;

/// Every null of an object has its key under the nearest `reasons` above it.
void expect_explained(const Json& value, const Json& reasons, const std::string& key) {
  if (value.is_null()) {
    EXPECT_TRUE(reasons.contains(key) && !reasons[key].get<std::string>().empty()) << key;
  }
  const Json& nearest = value.is_object() && value.contains("reasons") ? value["reasons"] : reasons;
  if (value.is_object())
    for (const auto& [name, inner] : value.items()) expect_explained(inner, nearest, name);
  if (value.is_array())
    for (const Json& inner : value) expect_explained(inner, nearest, key);
}

TEST(JsonDocuments, ExplainEveryNullOfAnEmptyAnalysis) {
  const Json document = Json::parse(analysis_json(Analysis{}));
  ASSERT_TRUE(document["variability"]["sdnn_ms"].is_null());
  expect_explained(document, document["reasons"], "");
}

TEST(JsonDocuments, PassOnTheReasonThatTheStageGave) {
  Variability result;
  result.reasons = {{"sdnn_ms", "too much was flagged"}};
  const Json document = Json::parse(variability_json(result));
  EXPECT_EQ(document["reasons"]["sdnn_ms"], "too much was flagged");
}

TEST(JsonDocuments, BeginWithTheirVersionAndNameAndEndWithProvenance) {
  BeatTrain beats;
  beats.provenance = {"wren.csv", "text", std::string(64, 'a'), "{\"kind\":\"pulse\"}", "0.1.0"};
  beats.warnings = {{"clock_gaps", "two samples are missing"}};
  const Json document = Json::parse(beats_json(beats));
  EXPECT_EQ(document.begin().key(), "schema_version");
  EXPECT_EQ(document["schema_version"], schema_version);
  EXPECT_EQ(document["document"], "beats");
  EXPECT_EQ(document["warnings"][0]["code"], "clock_gaps");
  EXPECT_EQ(document["provenance"]["options"]["kind"], "pulse");
  EXPECT_FALSE(document["reasons"].contains("sha256"));
}

TEST(JsonDocuments, RoundNumbersAsTheTablesDo) {
  BeatTrain beats;
  beats.candidates.push_back({Seconds{1.23456789}, SampleIndex{3}, 0.98765, BeatVerdict::accepted, BeatLabel::normal});
  const Json row = Json::parse(beats_json(beats))["beats"][0];
  EXPECT_EQ(row["time_s"].get<double>(), 1.234568);
  EXPECT_EQ(row["confidence"].get<double>(), 0.988);
}

TEST(JsonDocuments, SurviveNamesThatAreNotUtf8) {
  Recording recording;
  Channel channel;
  channel.name = "F\xfc\xdf";  // Latin-1
  recording.channels.push_back(channel);
  const Json document = Json::parse(recording_json(recording));
  EXPECT_EQ(document["channels"][0]["name"], "F\xef\xbf\xbd\xef\xbf\xbd");
}

TEST(JsonDocuments, GiveTheTargetExactlyAndInWholeBeats) {
  TargetZone target;
  target.low = BeatsPerMinute{149.4};
  target.high = BeatsPerMinute{184.15};
  target.maximum = {BeatsPerMinute{205}, 11.0, MaximumSource::fox_1971};
  target.resting = RestingRate{BeatsPerMinute{66}, RestingSource::given, std::nullopt};
  const Json document = Json::parse(target_json(target, Person{}, {}));
  EXPECT_EQ(document["low_bpm"], 149.4);
  EXPECT_EQ(document["low_whole_bpm"], 149);
  EXPECT_EQ(document["high_whole_bpm"], 184);
  EXPECT_EQ(document["resting_source"], "given");
}

}  // namespace
}  // namespace pulsewright
