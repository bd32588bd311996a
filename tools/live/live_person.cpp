#include "live_person.hpp"

#include <fmt/format.h>

#include <utility>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

/// So much of the signal is kept to be shown.
constexpr Seconds shown_trace{30.0};
/// A sensor that sends nothing for so long is silent.
constexpr std::int64_t silent_after_us = 2'000'000;
/// Bytes that make no sense for so long are worth a word, and so are damaged ones in so large a
/// share, told again no sooner than this.
constexpr std::int64_t unreadable_after_us = 3'000'000;
constexpr double worth_telling = 0.02;
constexpr std::int64_t tell_again_us = 10'000'000;
constexpr std::size_t enough_bytes = 64;

}  // namespace

LivePerson::LivePerson(LivePersonSetup setup) : setup_(std::move(setup)) {
  if (setup_.replayed) {
    replay_.emplace(setup_.sensor.kind, *setup_.replayed, setup_.sensor.find, setup_.sensor.least_confidence);
  } else {
    sensor_.emplace(setup_.sensor);
  }
}

std::optional<Hertz> LivePerson::rate() const { return replay_ ? setup_.replayed : sensor_->rate(); }

LiveGlance LivePerson::glance(bool with_trace) const {
  LiveGlance glance;
  glance.code = setup_.code;
  glance.kind = setup_.sensor.kind;
  glance.standing = &setup_.standing;
  glance.second = latest_;
  glance.silent = silent_;
  if (!with_trace || !rate()) return glance;
  glance.trace.assign(trace_.begin(), trace_.end());
  glance.rate = *rate();
  glance.seen = seen_;
  glance.beats.assign(beats_.begin(), beats_.end());
  return glance;
}

void LivePerson::show(std::span<const float> grid, std::span<const LiveEvent> events) {
  trace_.insert(trace_.end(), grid.begin(), grid.end());
  shown_samples_ += static_cast<std::int64_t>(grid.size());
  if (const auto rate = this->rate()) {
    seen_ = time_of(SampleIndex{shown_samples_}, *rate);
    const auto most = static_cast<std::size_t>(samples_in(shown_trace, *rate));
    if (trace_.size() > most) trace_.erase(trace_.begin(), trace_.end() - static_cast<std::ptrdiff_t>(most));
  }
  for (const LiveEvent& event : events) {
    if (event.second) {
      latest_ = event.second;
    } else {
      beats_.push_back(event.beat.time);
    }
  }
  while (!beats_.empty() && beats_.front() < seen_ - shown_trace) beats_.pop_front();
}

void LivePerson::take_outcome(LiveOutcome& outcome, std::int64_t at_us, std::vector<LiveEvent>& events) {
  if (!outcome.samples.empty() || !outcome.packets.empty()) {
    if (silent_ && any_ && !away_) note("back", setup_.input + ": samples come again");
    silent_ = false;
    any_ = true;
    told_unreadable_ = false;
    last_sample_us_ = at_us;
    bytes_when_last_understood_ = sensor_->wire().bytes;
  }
  for (const TimedSample& sample : outcome.samples) {
    if (sample.before == WireBreak::restarted)
      note("restarted", fmt::format("{}: the sensor's clock began anew; its samples go on at {:.1f} s of the recording",
                                    setup_.input, static_cast<double>(sample.time_us) / 1e6));
  }
  if (file) {
    file->keep(outcome.samples);
    if (const auto rate = sensor_->rate(); rate && !told_rate_) {
      file->state_rate(*rate);
      told_rate_ = true;
    }
    file->settle(at_us);
    if (!file->fault().empty() && !told_fault_) {
      note("not_recorded", file->fault());
      told_fault_ = true;
    }
  }
  show(outcome.grid, outcome.events);
  for (HeartRatePacket& packet : outcome.packets) packets_.push_back(std::move(packet));
  events.insert(events.end(), outcome.events.begin(), outcome.events.end());
}

void LivePerson::take(const Arrival& arrival, std::vector<LiveEvent>& events) {
  switch (arrival.kind) {
    case Arrival::Kind::away:
      away_ = true;
      silent_ = true;
      sensor_->interrupt();
      note("unplugged", setup_.input + ": the sensor was unplugged (" + arrival.bytes +
                            "); the run goes on when it is back, and the time until then is a gap");
      return;
    case Arrival::Kind::back:
      away_ = false;
      silent_ = false;
      last_sample_us_ = arrival.at_us;
      note("plugged_in", setup_.input + ": the sensor is back");
      return;
    case Arrival::Kind::ended:
      if (!arrival.bytes.empty()) note("ended", setup_.input + ": " + arrival.bytes);
      finish(events);
      return;
    case Arrival::Kind::data: break;
  }
  if (replay_) {
    std::vector<LiveEvent> fresh;
    replay_->push(arrival.samples, fresh);
    show(arrival.samples, fresh);
    events.insert(events.end(), fresh.begin(), fresh.end());
    any_ = true;
    last_sample_us_ = arrival.at_us;
    return;
  }
  LiveOutcome outcome;
  sensor_->push(arrival.bytes, setup_.in_real_time ? std::optional{arrival.at_us} : std::nullopt, outcome);
  take_outcome(outcome, arrival.at_us, events);
}

void LivePerson::finish(std::vector<LiveEvent>& events) {
  if (ended_) return;
  ended_ = true;
  if (replay_) {
    std::vector<LiveEvent> fresh;
    replay_->finish(fresh);
    show({}, fresh);
    events.insert(events.end(), fresh.begin(), fresh.end());
    return;
  }
  LiveOutcome outcome;
  sensor_->finish(outcome);
  take_outcome(outcome, last_sample_us_, events);
  if (file) file->close();
}

void LivePerson::look_at_wire(std::int64_t now_us) {
  const WireCounts& wire = sensor_->wire();
  const std::uint64_t strange = wire.bytes - bytes_when_last_understood_;
  if (!told_unreadable_ && strange > enough_bytes && now_us - last_sample_us_ > unreadable_after_us) {
    told_unreadable_ = true;
    std::string message =
        fmt::format("{}: {} bytes came, and none of them is a line or frame of a sensor", setup_.input, strange);
    if (!wire.last_spoiled.empty()) message += " (the last: " + wire.last_spoiled + ")";
    if (setup_.baud > 0) message += fmt::format("; does the sensor send at {} baud? --baud sets it", setup_.baud);
    note("unreadable", message);
  }
  const std::uint64_t spoiled = wire.spoiled - spoiled_when_told_, samples = wire.samples - samples_when_told_;
  if (now_us - told_us_ < tell_again_us || samples == 0) return;
  if (static_cast<double>(spoiled) > worth_telling * static_cast<double>(samples + spoiled))
    note("damaged", fmt::format("{}: of the last {} lines or frames {} were damaged and are left out (the last: {})",
                                setup_.input, samples + spoiled, spoiled, wire.last_spoiled));
  told_us_ = now_us;
  spoiled_when_told_ = wire.spoiled;
  samples_when_told_ = wire.samples;
}

void LivePerson::look(std::int64_t now_us) {
  if (ended_ || replay_) return;
  if (file) file->settle(now_us);
  if (!away_) look_at_wire(now_us);
  if (silent_ || now_us - last_sample_us_ <= silent_after_us) return;
  silent_ = true;
  if (away_ || told_unreadable_) return;
  note("silent", any_ ? setup_.input + ": nothing has come for 2 s"
                      : setup_.input + ": nothing has come yet; is the sensor powered, and is this where it sends?");
}

}  // namespace pulsewright::program
