/// The header file of the open record format: header(5) of the physionet.org manual.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace pulsewright::reading {

/// What a header says of one signal.
struct SignalSpec {
  std::string file;              ///< beside the header; `~` in the layout segment of a multi-segment record
  int coding = 0;                ///< 8, 16, 24, 32, 61, 80, 160, 212, 310, 311; 0 for a signal that is not stored
  int samples_per_frame = 1;     ///< at least 1
  std::int64_t skew = 0;         ///< stored frames that precede frame 0
  std::int64_t byte_offset = 0;  ///< bytes of the file before the first sample
  double gain = 200;             ///< stored steps per unit
  bool calibrated = true;        ///< the header states the gain
  std::int64_t baseline = 0;     ///< stored value of 0 units
  std::string unit = "mV";
  std::int64_t initial = 0;              ///< value before the first difference (coding 8)
  std::optional<std::int64_t> checksum;  ///< 16-bit sum of all stored samples, signed or not
  std::string description;               ///< trimmed; empty when the header has none
  std::int64_t line = 0;                 ///< in the header
};

/// One segment of a multi-segment record; `~` is a gap.
struct SegmentSpec {
  std::string record;
  std::int64_t frames = 0;
  std::int64_t line = 0;
};

struct RecordHeader {
  std::string name;
  bool segmented = false;
  double frame_rate = 250;             ///< Hz; the format's default where the header has none
  std::optional<std::int64_t> frames;  ///< absent when the header leaves it out or says 0
  std::optional<std::string> clock_start;
  std::vector<SignalSpec> signals;    ///< of a single-segment record
  std::vector<SegmentSpec> segments;  ///< of a multi-segment record
};

/// Reads a header. `file` is named in messages. Throws Error{unreadable} naming the line, the value and the rule.
[[nodiscard]] RecordHeader parse_record_header(std::string_view text, const std::string& file);

/// Whether a text starts like such a header: a record line followed by a signal line with a known coding, or by segments.
[[nodiscard]] bool looks_like_record_header(std::string_view text);

}  // namespace pulsewright::reading
