/// Stages 2, 3 and 5 while samples arrive: a uniform grid, beats, and a rate every second. The
/// causal form of every stage, so that a live run and the same samples read from a file give the
/// same beats and rates, bit for bit, in chunks of any size.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"
#include "pulsewright/wire.hpp"

namespace pulsewright {

/// The sampling rate of a sensor that does not say it, from its first samples: one over the usual
/// step, to a whole hertz where that is within 1 %, else to a tenth.
class RateFinder {
 public:
  /// Takes samples until the rate is known: over the first second of them, at least 20.
  void push(const TimedSample& sample);
  /// The rate, once it is known.
  [[nodiscard]] std::optional<Hertz> rate() const { return rate_; }
  /// The rate from what there is; nothing with fewer than 3 samples.
  [[nodiscard]] std::optional<Hertz> rate_so_far() const;

 private:
  std::vector<std::int64_t> times_us_;
  std::optional<Hertz> rate_;
};

/// Samples at times of their own -> samples on a uniform grid, sample k at k / rate from the first
/// one. Between samples no more than 50 ms and a period apart it interpolates linearly; farther
/// apart, a grid point more than half a period from any sample is NaN. A grid point is given as
/// soon as the sample at or after it is there.
class SampleGrid {
 public:
  /// `rate` must be positive (Error{contract}).
  explicit SampleGrid(Hertz rate);
  /// Appends the grid points up to this sample. Samples with the value NaN are passed over; times
  /// must increase (Error{contract}).
  void push(const TimedSample& sample, std::vector<float>& out);
  /// Appends what the last sample still stands for.
  void finish(std::vector<float>& out);
  [[nodiscard]] Hertz rate() const { return rate_; }

 private:
  [[nodiscard]] double time_of_next() const { return static_cast<double>(next_) / rate_.value(); }

  Hertz rate_;
  std::int64_t next_ = 0;  // the grid point to come
  std::int64_t last_us_ = -1;
  std::optional<double> before_s_;  // the last sample that had a value
  float before_ = 0;
};

/// What the wearer can do about the signal.
enum class SignalAdvice {
  good,           ///< nothing: beats are found
  looking,        ///< the signal is fine, and beats are not yet, or not surely, found
  nothing_comes,  ///< no samples
  no_contact,     ///< it does not move: no finger, no electrode
  too_strong,     ///< it stands at an end of its range: press lighter, or less light
  hold_still,     ///< it moves as no heart does
};

/// `good`, `looking`, `nothing_comes`, `no_contact`, `too_strong`, `hold_still`.
[[nodiscard]] const char* to_string(SignalAdvice advice);
/// In words for the wearer of a sensor of this kind: "press lighter", "no finger", ...
[[nodiscard]] const char* advice_text(SignalAdvice advice, ChannelKind kind);

/// A second of a live run.
struct LiveSecond {
  Seconds at;         ///< from the first sample; this much had been seen
  RateWindow window;  ///< the last 8 s in which beats are decided
  SignalAdvice advice = SignalAdvice::looking;
};

/// What a live run says, in the order in which it says it.
struct LiveEvent {
  /// A beat; or a second, where there is one.
  Beat beat;
  std::optional<LiveSecond> second;
};

/// One sensor, live.
///
/// Beats are those of `BeatStream`. Every second the rate is `rate_over_windows` over the last 8 s
/// in which beats are decided, with the intervals between the beats of the last half minute cleaned
/// as `clean` does; it is given only where `RateOptions::least_confidence` allows. Memory does not
/// grow with time.
class LiveChannel {
 public:
  /// `kind` is ecg or pulse (Error{contract}, as for a rate that is not positive).
  LiveChannel(ChannelKind kind, Hertz rate, const FindOptions& options = {}, double least_confidence = 0.5);
  ~LiveChannel();
  LiveChannel(LiveChannel&&) noexcept;
  LiveChannel& operator=(LiveChannel&&) noexcept;

  /// Takes samples on the grid, NaN where there was none.
  void push(std::span<const float> samples, std::vector<LiveEvent>& out);
  /// Decides the rest.
  void finish(std::vector<LiveEvent>& out);
  /// A beat is decided at most this long after it happened.
  [[nodiscard]] Seconds look_ahead() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// How a sensor on a wire is read.
struct LiveSensorOptions {
  ChannelKind kind = ChannelKind::pulse;     ///< ecg or pulse
  std::optional<Hertz> rate = std::nullopt;  ///< nothing: found from the sensor's clock
  WireForm form = WireForm::automatic;
  std::string column;  ///< the value column of a table
  FindOptions find;
  double least_confidence = 0.5;
};

/// What came of some bytes.
struct LiveOutcome {
  std::vector<TimedSample> samples;      ///< as sent, on one time line: what a recording keeps
  std::vector<float> grid;               ///< the same on the uniform grid, as far as it is known
  std::vector<LiveEvent> events;         ///< beats and seconds
  std::vector<HeartRatePacket> packets;  ///< of `WireForm::packets`, which have no samples
};

/// From the bytes of one sensor to beats and rates: `WireReader`, `WireClock`, `RateFinder`,
/// `SampleGrid` and `LiveChannel` in a row.
class LiveSensor {
 public:
  explicit LiveSensor(const LiveSensorOptions& options);
  ~LiveSensor();
  LiveSensor(LiveSensor&&) noexcept;
  LiveSensor& operator=(LiveSensor&&) noexcept;

  /// Appends to `out`. `arrived_us` as for `WireClock::place`. Throws Error{usage} as that does,
  /// and for a sampling rate below 16 Hz, which shows no beat.
  void push(std::span<const char> bytes, std::optional<std::int64_t> arrived_us, LiveOutcome& out);
  /// The end of the input.
  void finish(LiveOutcome& out);
  /// The sensor was unplugged: what is incomplete is forgotten, and what comes next is placed by
  /// the clock of this machine.
  void interrupt();

  /// The sampling rate, once it is known.
  [[nodiscard]] std::optional<Hertz> rate() const;
  [[nodiscard]] const WireCounts& wire() const;
  [[nodiscard]] const ClockCounts& clock() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace pulsewright
