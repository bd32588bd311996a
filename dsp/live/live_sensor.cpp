#include <fmt/format.h>

#include <utility>

#include "pulsewright/error.hpp"
#include "pulsewright/live.hpp"

namespace pulsewright {
namespace {

/// Slower samples show no beat: the wave of a pulse has parts up to 8 Hz.
constexpr double slowest_hz = 16.0;

}  // namespace

struct LiveSensor::State {
  LiveSensorOptions options;
  WireReader reader;
  WireClock clock;
  RateFinder finder;
  std::vector<TimedSample> waiting;  // until the rate is known
  std::optional<SampleGrid> grid;
  std::optional<LiveChannel> channel;
  std::vector<WireSample> sent;
  std::vector<TimedSample> placed;

  void begin(Hertz rate) {
    if (rate.value() < slowest_hz) {
      throw Error{ErrorCode::usage, fmt::format("the sensor sends {} samples a second; fewer than {} show no heartbeat",
                                                rate.value(), slowest_hz)};
    }
    grid.emplace(rate);
    channel.emplace(options.kind, rate, options.find, options.least_confidence);
  }

  void take(const TimedSample& sample, LiveOutcome& out) {
    if (!grid) {
      waiting.push_back(sample);
      finder.push(sample);
      const auto rate = options.rate ? options.rate : finder.rate();
      if (!rate) return;
      begin_with_waiting(*rate, out);
      return;
    }
    feed(sample, out);
  }

  void begin_with_waiting(Hertz rate, LiveOutcome& out) {
    begin(rate);
    for (const TimedSample& sample : std::exchange(waiting, {})) feed(sample, out);
  }

  void feed(const TimedSample& sample, LiveOutcome& out) {
    const std::size_t before = out.grid.size();
    grid->push(sample, out.grid);
    channel->push(std::span<const float>{out.grid}.subspan(before), out.events);
  }

  void take_all(std::optional<std::int64_t> arrived_us, LiveOutcome& out) {
    for (HeartRatePacket& packet : reader.take_packets()) out.packets.push_back(std::move(packet));
    placed.clear();
    for (const WireSample& sample : sent) clock.place(sample, arrived_us, placed);
    for (const TimedSample& sample : placed) {
      out.samples.push_back(sample);
      take(sample, out);
    }
    sent.clear();
  }
};

LiveSensor::LiveSensor(const LiveSensorOptions& options)
    : state_(std::make_unique<State>(State{options,
                                           WireReader{options.form, options.column},
                                           WireClock{options.rate},
                                           {},
                                           {},
                                           std::nullopt,
                                           std::nullopt,
                                           {},
                                           {}})) {
  if (options.rate) state_->begin(*options.rate);
}
LiveSensor::~LiveSensor() = default;
LiveSensor::LiveSensor(LiveSensor&&) noexcept = default;
LiveSensor& LiveSensor::operator=(LiveSensor&&) noexcept = default;

void LiveSensor::push(std::span<const char> bytes, std::optional<std::int64_t> arrived_us, LiveOutcome& out) {
  state_->reader.push(bytes, state_->sent);
  state_->take_all(arrived_us, out);
}

void LiveSensor::finish(LiveOutcome& out) {
  State& s = *state_;
  s.reader.finish(s.sent);
  s.take_all(std::nullopt, out);
  if (!s.grid) {
    const auto rate = s.finder.rate_so_far();
    if (!rate || rate->value() < slowest_hz) return;
    s.begin_with_waiting(*rate, out);
  }
  const std::size_t before = out.grid.size();
  s.grid->finish(out.grid);
  s.channel->push(std::span<const float>{out.grid}.subspan(before), out.events);
  s.channel->finish(out.events);
}

void LiveSensor::interrupt() {
  state_->reader.interrupt();
  state_->clock.interrupt();
}

std::optional<Hertz> LiveSensor::rate() const {
  return state_->grid ? std::optional{state_->grid->rate()} : std::nullopt;
}

const WireCounts& LiveSensor::wire() const { return state_->reader.counts(); }

const ClockCounts& LiveSensor::clock() const { return state_->clock.counts(); }

}  // namespace pulsewright
