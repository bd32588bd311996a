/// One sensor of a live run, and who wears it.
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "input_thread.hpp"
#include "pulsewright/live.hpp"
#include "pulsewright/live_screen.hpp"
#include "pulsewright/live_standing.hpp"
#include "sensor_file.hpp"

namespace pulsewright::program {

/// How one sensor is read.
struct LivePersonSetup {
  std::string code;   ///< shown; never a name
  std::string input;  ///< the path
  LiveStanding standing;
  LiveSensorOptions sensor;
  /// Rate of a recording that is played again: samples come, not bytes.
  std::optional<Hertz> replayed = std::nullopt;
  /// Whether the moment at which bytes come says when samples were taken.
  bool in_real_time = true;
  int baud = 0;  ///< of a serial port, else 0
};

/// Something that happened to a sensor, in words; `code` is a stable word for scripts.
struct LiveNote {
  std::string code, message;
};

/// Takes what arrives and keeps what views show.
class LivePerson {
 public:
  explicit LivePerson(LivePersonSetup setup);

  /// Takes what came. Beats and seconds are appended to `events`, in order.
  void take(const Arrival& arrival, std::vector<LiveEvent>& events);
  /// Looks at what has not come: to be called now and then. `now_us` is on the clock of arrivals.
  void look(std::int64_t now_us);
  /// The end of the run for this sensor.
  void finish(std::vector<LiveEvent>& events);
  [[nodiscard]] std::vector<LiveNote> take_notes() { return std::exchange(notes_, {}); }

  [[nodiscard]] const std::string& code() const { return setup_.code; }
  [[nodiscard]] const std::string& input() const { return setup_.input; }
  [[nodiscard]] ChannelKind kind() const { return setup_.sensor.kind; }
  [[nodiscard]] LiveStanding& standing() { return setup_.standing; }
  [[nodiscard]] const LiveStanding& standing() const { return setup_.standing; }
  [[nodiscard]] std::optional<Hertz> rate() const;
  /// The latest second; nothing before the first, and none while nothing comes.
  [[nodiscard]] const std::optional<LiveSecond>& latest() const { return latest_; }
  [[nodiscard]] Seconds seen() const { return seen_; }
  [[nodiscard]] bool silent() const { return silent_; }
  [[nodiscard]] bool ended() const { return ended_; }
  /// What a screen shows of this person, perhaps with the newest half minute of the signal.
  [[nodiscard]] LiveGlance glance(bool with_trace) const;
  [[nodiscard]] std::vector<HeartRatePacket> take_packets() { return std::exchange(packets_, {}); }

  std::unique_ptr<SensorFile> file;  ///< where the samples are kept; may be none

 private:
  void note(std::string code, std::string message) { notes_.push_back({std::move(code), std::move(message)}); }
  void take_outcome(LiveOutcome& outcome, std::int64_t at_us, std::vector<LiveEvent>& events);
  void show(std::span<const float> grid, std::span<const LiveEvent> events);
  void look_at_wire(std::int64_t now_us);

  LivePersonSetup setup_;
  std::optional<LiveSensor> sensor_;
  std::optional<LiveChannel> replay_;
  std::vector<LiveNote> notes_;
  std::vector<HeartRatePacket> packets_;
  std::optional<LiveSecond> latest_;
  std::deque<float> trace_;
  std::deque<Seconds> beats_;
  std::int64_t shown_samples_ = 0;
  Seconds seen_{0};
  std::int64_t last_sample_us_ = 0;
  std::uint64_t bytes_when_last_understood_ = 0;
  std::uint64_t spoiled_when_told_ = 0, samples_when_told_ = 0;
  std::int64_t told_us_ = 0;
  bool any_ = false, silent_ = false, away_ = false, ended_ = false, told_unreadable_ = false, told_fault_ = false;
  bool told_rate_ = false;
};

}  // namespace pulsewright::program
