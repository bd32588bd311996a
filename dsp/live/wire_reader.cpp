#include <utility>

#include "wire_stream.hpp"

namespace pulsewright {

using live_stage::FrameStream;
using live_stage::LineStream;
using live_stage::WireStream;

namespace {

/// The form that first shows so many samples is taken for that of the wire.
constexpr std::size_t enough_to_tell = 2;

}  // namespace

struct WireReader::State {
  WireForm form;
  std::string column;
  // The only one, or that of lines while both are tried.
  std::unique_ptr<WireStream> stream;
  std::unique_ptr<WireStream> frames;           // while both are tried
  std::vector<WireSample> in_lines, in_frames;  // what they showed so far

  void begin() {
    in_lines.clear();
    in_frames.clear();
    frames.reset();
    if (form == WireForm::frames) {
      stream = std::make_unique<FrameStream>();
    } else {
      stream = std::make_unique<LineStream>(form == WireForm::packets, column);
      if (form == WireForm::automatic) frames = std::make_unique<FrameStream>();
    }
  }

  void tell_apart(std::vector<WireSample>& samples, std::size_t enough) {
    const bool is_frames = in_frames.size() >= enough;
    if (!is_frames && in_lines.size() < enough) return;
    std::vector<WireSample>& shown = is_frames ? in_frames : in_lines;
    samples.insert(samples.end(), shown.begin(), shown.end());
    if (is_frames) stream = std::move(frames);
    frames.reset();
  }
};

WireReader::WireReader(WireForm form, std::string column)
    : state_(std::make_unique<State>(State{form, std::move(column), {}, {}, {}, {}})) {
  state_->begin();
}
WireReader::~WireReader() = default;
WireReader::WireReader(WireReader&&) noexcept = default;
WireReader& WireReader::operator=(WireReader&&) noexcept = default;

void WireReader::push(std::span<const char> bytes, std::vector<WireSample>& samples) {
  State& s = *state_;
  if (!s.frames) {
    s.stream->push(bytes, samples);
    return;
  }
  // Byte by byte, so that the moment at which the form is told does not depend on the pieces.
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    s.stream->push(bytes.subspan(i, 1), s.in_lines);
    s.frames->push(bytes.subspan(i, 1), s.in_frames);
    s.tell_apart(samples, enough_to_tell);
    if (!s.frames) {
      s.stream->push(bytes.subspan(i + 1), samples);
      return;
    }
  }
}

void WireReader::finish(std::vector<WireSample>& samples) {
  State& s = *state_;
  if (s.frames) {
    s.stream->finish(s.in_lines);
    s.tell_apart(samples, 1);
    return;
  }
  s.stream->finish(samples);
}

std::vector<HeartRatePacket> WireReader::take_packets() { return state_->stream->take_packets(); }

void WireReader::interrupt() { state_->stream->interrupt(); }

const WireCounts& WireReader::counts() const { return state_->stream->counts; }

}  // namespace pulsewright
