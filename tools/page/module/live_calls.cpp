/// Sensors while they send: bytes in, the latest second out, and at the end the file that a live run keeps.
#include <fmt/format.h>

#include <cstdint>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "calls.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/live.hpp"
#include "pulsewright/live_recording.hpp"

namespace pulsewright::page {
namespace {

/// One sensor and what is kept of it.
struct PageSensor {
  explicit PageSensor(const LiveSensorOptions& options) : sensor(options), kind(options.kind), form(options.form) {}

  LiveSensor sensor;
  ChannelKind kind;
  WireForm form;
  std::string recording;  ///< of samples: the file so far
  bool rate_told = false;
  std::string intervals;  ///< of packets: intervals in ms, one a line
  std::string rates;      ///< of packets: a table of rates
  std::int64_t first_arrived_us = -1;
  std::optional<LiveSecond> second;
  std::optional<HeartRatePacket> packet;
  std::uint64_t beats = 0;
};

std::map<int, PageSensor>& sensors() {
  static std::map<int, PageSensor> open;
  return open;
}

PageSensor& sensor_of(const Json& asked) {
  const auto found = sensors().find(asked.at("sensor").get<int>());
  if (found == sensors().end()) throw Error(ErrorCode::usage, "no such sensor is open");
  return found->second;
}

void keep_samples(PageSensor& one, const LiveOutcome& outcome) {
  if (!one.rate_told && one.sensor.rate()) {
    one.recording += live_recording_rate(*one.sensor.rate());
    one.rate_told = true;
  }
  for (const TimedSample& sample : outcome.samples) one.recording += live_recording_row(sample);
}

void keep_packets(PageSensor& one, const LiveOutcome& outcome, std::int64_t arrived_us) {
  if (one.first_arrived_us < 0) one.first_arrived_us = arrived_us;
  for (const HeartRatePacket& packet : outcome.packets) {
    one.packet = packet;
    if (packet.contact.value_or(true) && packet.bpm > 0)
      one.rates += fmt::format("{:.3f},{}\n", static_cast<double>(arrived_us - one.first_arrived_us) / 1e6, packet.bpm);
    for (const Seconds interval : packet.rr) one.intervals += fmt::format("{:.3f}\n", interval.value() * 1000);
  }
}

Json told(const PageSensor& one) {
  Json reply = {{"rate_hz", one.sensor.rate() ? Json(one.sensor.rate()->value()) : Json()},
                {"beats", one.beats},
                {"lost", one.sensor.clock().lost},
                {"spoiled", one.sensor.wire().spoiled},
                {"last_spoiled", one.sensor.wire().last_spoiled},
                {"understood", one.sensor.wire().samples}};
  if (one.packet)
    reply["packet"] = {{"bpm", one.packet->bpm},
                       {"contact", one.packet->contact ? Json(*one.packet->contact) : Json()}};
  if (!one.second) return reply;
  const RateWindow& window = one.second->window;
  const auto rate = [](const std::optional<BeatsPerMinute>& value) { return value ? Json(value->value()) : Json(); };
  reply["second"] = {{"at_s", one.second->at.value()},
                     {"bpm", rate(window.rate)},
                     {"low_bpm", rate(window.low)},
                     {"high_bpm", rate(window.high)},
                     {"advice", to_string(one.second->advice)}};
  return reply;
}

}  // namespace

Json live_open(const Json& asked) {
  LiveSensorOptions options;
  options.kind = text_of(asked, "kind") == "ecg" ? ChannelKind::ecg : ChannelKind::pulse;
  if (text_of(asked, "form") == "packets") options.form = WireForm::packets;
  if (const Json* rate = asked.find("rate_hz"); rate != nullptr && rate->is_number())
    options.rate = Hertz{rate->get<double>()};
  const int number = asked.at("sensor").get<int>();
  sensors().erase(number);
  PageSensor& one = sensors().emplace(number, PageSensor(options)).first->second;
  one.recording = live_recording_header(options.kind, text_of(asked, "code"), text_of(asked, "begun"));
  return {{"sensor", number}};
}

Json live_push(const Json& asked) {
  PageSensor& one = sensor_of(asked);
  std::ifstream file(text_of(asked, "file"), std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(file)), {});
  const auto arrived_us = static_cast<std::int64_t>(asked.at("arrived_us").get<double>());
  LiveOutcome outcome;
  if (asked.contains("interrupted")) one.sensor.interrupt();
  one.sensor.push(bytes, arrived_us, outcome);
  keep_samples(one, outcome);
  keep_packets(one, outcome, arrived_us);
  for (const LiveEvent& event : outcome.events) {
    if (event.second)
      one.second = event.second;
    else if (event.beat.verdict == BeatVerdict::accepted)
      ++one.beats;
  }
  return told(one);
}

Json live_file(const Json& asked) {
  const PageSensor& one = sensor_of(asked);
  if (one.form != WireForm::packets)
    return {{"form", "recording"}, {"file", put_result("recording.csv", one.recording)}};
  if (!one.intervals.empty()) return {{"form", "intervals"}, {"file", put_result("intervals.txt", one.intervals)}};
  return {{"form", "rates"}, {"file", put_result("rates.csv", "time_s,bpm\n" + one.rates)}};
}

}  // namespace pulsewright::page
