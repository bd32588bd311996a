#include "pulsewright/live_recording.hpp"

#include <fmt/format.h>

#include <cmath>

#include "pulsewright/error.hpp"

namespace pulsewright {

std::string live_recording_header(ChannelKind kind, const std::string& code, const std::string& begun) {
  if (kind != ChannelKind::ecg && kind != ChannelKind::pulse)
    throw Error{ErrorCode::contract, "live_recording_header: a live recording is of an ECG or a pulse"};
  std::string text{live_recording_mark};
  text += '\n';
  if (!code.empty()) text += "# code=" + code + "\n";
  if (!begun.empty()) text += "# begun=" + begun + "\n";
  return text + "time_us," + to_string(kind) + "\n";
}

std::string live_recording_rate(Hertz rate) { return fmt::format("# rate_hz={}\n", rate.value()); }

std::string live_recording_row(const TimedSample& sample) {
  std::string text;
  if (sample.before == WireBreak::silent || sample.before == WireBreak::restarted)
    text = fmt::format("# gap={}\n", to_string(sample.before));
  text += std::isfinite(sample.value) ? fmt::format("{},{}\n", sample.time_us, sample.value)
                                      : fmt::format("{},\n", sample.time_us);
  return text;
}

}  // namespace pulsewright
