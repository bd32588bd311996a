/// What sensors send over a wire: bytes -> samples with the sensor's own count and clock. Lines of
/// text, lines of JSON, compact frames with a check sum, and heart-rate packets as lines of
/// hexadecimal digits.
///
/// `tools/firmware/PROTOCOL.md` describes lines and frames for whoever builds a sensor.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright {

/// Ticks of a sensor's clock.
enum class TickUnit { microseconds, milliseconds };

/// The clock of a sensor when it took a sample, as it was sent.
struct SensorTicks {
  std::uint64_t count = 0;  ///< wraps at 2^32, as the clocks of small microcontrollers do
  TickUnit unit = TickUnit::microseconds;
};

/// One sample as it was sent. What the sensor did not say is absent.
struct WireSample {
  /// Counts samples; wraps at 2^16 in frames, at 2^32 in lines.
  std::optional<std::uint32_t> sequence;
  std::optional<SensorTicks> ticks;
  float value = 0;  ///< NaN: the sensor says that it has none
};

/// What a heart-rate belt says of itself: the heart-rate measurement of the open Bluetooth service
/// 0x180D (characteristic 0x2A37; Bluetooth SIG, Heart Rate Service 1.0, GATT Specification
/// Supplement).
struct HeartRatePacket {
  int bpm = 0;
  std::optional<bool> contact;   ///< skin contact; absent where the sensor cannot tell
  std::optional<int> energy_kj;  ///< expended so far
  /// Intervals between beats since the last packet, oldest first, ticks of 1/1024 s.
  std::vector<Seconds> rr;
};

/// Reads a packet from hexadecimal digits, in pairs that blanks, colons or minus signs may part; a
/// leading `0x` is passed over. Nothing when it holds anything else, ends early, or has bytes left
/// over.
[[nodiscard]] std::optional<HeartRatePacket> heart_rate_packet(std::string_view hex);

/// How samples are written on the wire.
enum class WireForm {
  automatic,  ///< lines or frames, whichever makes sense first
  /// `seq=12,t_us=120000,v=512`, JSON objects with these keys, bare numbers, or a table with a
  /// header.
  lines,
  frames,   ///< of `frame_size` bytes
  packets,  ///< heart-rate packets as hexadecimal lines
};

/// Bytes of a frame: two of synchronisation, sequence number (16 bit), clock in us (32 bit), value
/// (32 bit, signed), CRC; the lowest byte of each first.
inline constexpr std::size_t frame_size = 14;
inline constexpr std::array<unsigned char, 2> frame_start{0xA7, 0x3C};

/// The check sum of frames: CRC-16 with polynomial 0x1021 from 0xFFFF, no reflection (ITU-T V.41's
/// polynomial; 0x29B1 for the digits 1 to 9), over sequence number, clock and value.
[[nodiscard]] std::uint16_t frame_check(std::span<const unsigned char> bytes);
/// The frame of a sample. Sequence number and clock are cut to their width.
[[nodiscard]] std::array<unsigned char, frame_size> frame_of(std::uint32_t sequence, std::uint32_t ticks_us,
                                                             std::int32_t value);

/// What came over a wire so far.
struct WireCounts {
  std::uint64_t bytes = 0;
  std::uint64_t samples = 0;      ///< samples or packets that were understood
  std::uint64_t spoiled = 0;      ///< lines that were none, frames whose check sum was wrong
  std::uint64_t stray_bytes = 0;  ///< bytes between frames
  std::string last_spoiled;       ///< the last of them, fit to be shown, with what is wrong
};

/// Cuts a stream of bytes into samples. Pieces of any size give the same samples. What cannot be
/// understood is counted and left out; reading goes on with the next line or frame, also when the
/// first one was cut in half.
class WireReader {
 public:
  /// `column`: the value column of a table with a header; empty: the first that is no time and no
  /// sequence number.
  explicit WireReader(WireForm form = WireForm::automatic, std::string column = {});
  ~WireReader();
  WireReader(WireReader&&) noexcept;
  WireReader& operator=(WireReader&&) noexcept;

  /// Appends what is complete.
  void push(std::span<const char> bytes, std::vector<WireSample>& samples);
  /// Takes what stands after the last line end for a line; for the end of a file, not of a wire.
  void finish(std::vector<WireSample>& samples);
  /// Packets read since the last call; of `WireForm::packets` only.
  [[nodiscard]] std::vector<HeartRatePacket> take_packets();
  /// Forgets a half line or frame and how the stream was written: after a plug was pulled.
  void interrupt();
  [[nodiscard]] const WireCounts& counts() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// Why time passed without samples.
enum class WireBreak {
  none,
  lost,       ///< the sequence number or the sensor's clock went on without samples
  silent,     ///< nothing came for a while, by the clock of this machine
  restarted,  ///< the sensor's clock or count began anew, or jumped
};

[[nodiscard]] const char* to_string(WireBreak cause);

/// A sample on the clock of the recording.
struct TimedSample {
  std::int64_t time_us = 0;  ///< from the first sample; strictly increasing
  float value = 0;
  WireBreak before = WireBreak::none;  ///< why there is a gap before it, if there is
};

struct ClockCounts {
  std::uint64_t lost = 0;          ///< samples that the sequence number says were sent
  std::uint64_t out_of_order = 0;  ///< left out: not after the sample before
  std::uint64_t implausible = 0;   ///< left out: a clock that jumped for one sample only
  std::uint64_t restarts = 0;
};

/// One time line out of the sensor's count and clock: wrapped counters go on, lost samples leave
/// their place empty, and a sensor that was unplugged or restarted goes on where the clock of this
/// machine says.
///
/// The sensor's clock counts where it sends one, else its sequence numbers at `rate`, else each
/// sample is one period after the last. Steps are rounded to whole microseconds.
class WireClock {
 public:
  /// `rate` is needed only where the sensor sends no clock.
  explicit WireClock(std::optional<Hertz> rate = std::nullopt);

  /// Appends the sample, placed; a sample whose clock jumps waits for the next one to confirm it.
  /// `arrived_us` is when it came, on any steady clock of this machine; nothing where that means
  /// nothing, as when a file is read. Throws Error{usage} when the samples carry no clock and no
  /// rate was given.
  void place(const WireSample& sample, std::optional<std::int64_t> arrived_us, std::vector<TimedSample>& out);
  /// The sensor was away: what comes next is placed by the clock of this machine.
  void interrupt();
  [[nodiscard]] const ClockCounts& counts() const { return counts_; }

 private:
  struct Step;
  [[nodiscard]] Step step_to(const WireSample& sample, std::optional<std::int64_t> arrived_us);
  void accept(const WireSample& sample, std::optional<std::int64_t> arrived_us, const Step& step,
              std::vector<TimedSample>& out);
  [[nodiscard]] std::int64_t elapsed_us(std::optional<std::int64_t> arrived_us) const;

  std::optional<Hertz> rate_;
  ClockCounts counts_;
  std::optional<WireSample> last_;     // the last one that was placed
  std::optional<WireSample> suspect_;  // jumped, and waits to be confirmed
  std::optional<std::int64_t> last_arrived_us_, suspect_arrived_us_;
  std::int64_t time_us_ = 0;
  std::int64_t usual_step_us_ = 0;  // between the last two samples without loss
  double fraction_us_ = 0;          // of steps at `rate` that are no whole microseconds
  bool interrupted_ = false;
};

}  // namespace pulsewright
