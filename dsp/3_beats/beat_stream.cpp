#include <algorithm>
#include <string>

#include "causal_detector.hpp"
#include "missing_runs.hpp"
#include "pulsewright/beats.hpp"
#include "unreadable.hpp"

namespace pulsewright {

using namespace beats_stage;

struct BeatStream::State {
  std::vector<StreamingConditioner> conditioners;
  std::unique_ptr<CausalDetector> detector;
  MissingRuns missing;
  std::vector<std::vector<float>> conditioned;  // one piece of a chunk
  std::size_t in_block = 0;
  bool finished = false;

  void refuse_after_end(const char* call) const {
    if (finished)
      throw Error{ErrorCode::contract, std::string{call} + " after the end: a new recording needs a new BeatStream"};
  }
};

BeatStream::BeatStream(ChannelKind kind, Hertz rate, std::size_t channels, const FindOptions& options) {
  if (!(rate.value() > 0)) throw Error{ErrorCode::contract, "BeatStream: the sampling rate must be positive"};
  if (channels == 0) throw Error{ErrorCode::contract, "BeatStream: at least one channel is needed"};
  if (kind != ChannelKind::ecg && kind != ChannelKind::pulse) {
    throw Error{ErrorCode::contract, "BeatStream: beats are found in ecg or pulse channels only"};
  }
  state_ = std::make_unique<State>(
      State{std::vector<StreamingConditioner>(channels, StreamingConditioner{kind, rate, options.condition}),
            kind == ChannelKind::ecg ? make_ecg_detector(rate, channels, options.ecg)
                                     : make_pulse_detector(rate, channels, options.pulse),
            MissingRuns{rate, channels}, std::vector<std::vector<float>>(channels), 0, false});
}

BeatStream::~BeatStream() = default;
BeatStream::BeatStream(BeatStream&&) noexcept = default;
BeatStream& BeatStream::operator=(BeatStream&&) noexcept = default;

void BeatStream::push(std::span<const std::span<const float>> chunk, std::vector<Beat>& out) {
  State& s = *state_;
  s.refuse_after_end("BeatStream::push");
  if (chunk.size() != s.conditioners.size()) {
    throw Error{ErrorCode::contract, "BeatStream::push: " + std::to_string(chunk.size()) + " channels given, " +
                                         std::to_string(s.conditioners.size()) + " expected"};
  }
  for (const auto& samples : chunk) {
    if (samples.size() != chunk[0].size())
      throw Error{ErrorCode::contract, "BeatStream::push: channels of unequal length"};
  }
  std::vector<std::span<const float>> piece(chunk.size());
  for (std::size_t at = 0; at < chunk[0].size();) {
    const std::size_t count = std::min(chunk[0].size() - at, s.detector->block() - s.in_block);
    for (std::size_t k = 0; k < chunk.size(); ++k) {
      piece[k] = chunk[k].subspan(at, count);
      s.conditioned[k].clear();
      s.conditioners[k].push(piece[k], s.conditioned[k]);
    }
    s.missing.push(piece);
    const std::size_t before = out.size();
    s.detector->push(s.conditioned, out);
    if (out.size() > before) {
      const std::vector<Span> dark = s.missing.spans();
      for (std::size_t i = before; i < out.size(); ++i) reject_if_unreadable(out[i], dark);
    }
    s.in_block = (s.in_block + count) % s.detector->block();
    at += count;
  }
}

void BeatStream::finish(std::vector<Beat>& out) {
  state_->refuse_after_end("BeatStream::finish");
  state_->finished = true;
  const std::size_t before = out.size();
  state_->detector->finish(out);
  const std::vector<Span> dark = state_->missing.spans();
  for (std::size_t i = before; i < out.size(); ++i) reject_if_unreadable(out[i], dark);
}

Seconds BeatStream::look_ahead() const { return state_->detector->look_ahead(); }

std::vector<Span> BeatStream::unreadable() const { return state_->missing.spans(); }

}  // namespace pulsewright
