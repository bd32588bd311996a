/// The file that a live run keeps of a sensor: a table `time_us,pulse` (or `ecg`) of samples as
/// they were sent, on their own clock made one time line, that can be cut off anywhere and still be
/// read. `read_recording` puts it on the same grid as the live run did.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"
#include "pulsewright/wire.hpp"

namespace pulsewright {

/// How such a file begins.
inline constexpr std::string_view live_recording_mark = "# live recording of one sensor, version 1";

/// The first lines: what it is, who wears it, when it began (ISO 8601; empty where unknown), and
/// the header of the table. `kind` is ecg or pulse (Error{contract}).
[[nodiscard]] std::string live_recording_header(ChannelKind kind, const std::string& code, const std::string& begun);
/// The line that states the sampling rate, once it is known.
[[nodiscard]] std::string live_recording_rate(Hertz rate);
/// A row, and before it a comment where there is a gap.
[[nodiscard]] std::string live_recording_row(const TimedSample& sample);

}  // namespace pulsewright
