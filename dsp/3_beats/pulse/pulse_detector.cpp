#include <algorithm>
#include <cmath>
#include <memory>

#include "3_beats/causal_detector.hpp"
#include "3_beats/unreadable.hpp"
#include "pulse_confidence.hpp"
#include "pulse_judge.hpp"
#include "pulse_peak.hpp"
#include "pulse_wave.hpp"
#include "upstroke_foot.hpp"

namespace pulsewright::beats_stage {
namespace {

// A candidate is decided when this much of what follows it has been seen, at the end of a block of this length.
constexpr Seconds seen_after{1.0};
constexpr Seconds block_length{0.25};
constexpr Seconds memory{30.0};

/// The causal filter bends the wave, and a rise may look slower than a fall; the same filter backwards in time bends it straight.
std::vector<float> straightened(std::span<const float> values, Hertz rate) {
  const std::vector<float> reversed(values.rbegin(), values.rend());
  std::vector<float> straight;
  straight.reserve(values.size());
  StreamingConditioner{ChannelKind::pulse, rate}.push(reversed, straight);
  std::reverse(straight.begin(), straight.end());
  return straight;
}

// The causal form of the pulse detector: the judgement of whole-file processing, shown the last 30 s, its earlier decisions standing.
class PulseDetector final : public CausalDetector {
 public:
  PulseDetector(Hertz rate, std::size_t channels, const PulseOptions& options)
      : rate_(rate),
        options_(options),
        samples_(channels),
        polarities_(channels),
        block_(std::max<std::size_t>(1, static_cast<std::size_t>(samples_in(block_length, rate)))) {}

  void push(std::span<const std::vector<float>> conditioned, std::vector<Beat>& out) override {
    for (std::size_t k = 0; k < samples_.size(); ++k) {
      samples_[k].insert(samples_[k].end(), conditioned[k].begin(), conditioned[k].end());
    }
    received_ += conditioned[0].size();
    if (received_ % block_ != 0) return;
    const auto wait = static_cast<std::size_t>(std::ceil(samples_in(seen_after, rate_)));
    if (received_ > wait) decide(received_ - wait, out);
    forget();
  }

  void finish(std::vector<Beat>& out) override { decide(received_, out); }

  [[nodiscard]] Seconds look_ahead() const override {
    return seen_after + time_of(SampleIndex{static_cast<std::int64_t>(block_) + 1}, rate_);
  }
  [[nodiscard]] std::size_t block() const override { return block_; }

 private:
  void decide(std::size_t until, std::vector<Beat>& out) {
    if (until <= decided_until_) return;
    PulseDecided decided;
    decided.until = decided_until_ > first_ ? decided_until_ - first_ : 0;
    for (const std::size_t beat : decided_beats_) {
      if (beat >= first_) decided.beats.push_back(beat - first_);
    }
    std::vector<std::span<const float>> stretch;
    for (std::size_t k = 0; k < samples_.size(); ++k) {
      stretch.emplace_back(samples_[k]);
      polarities_[k].learn(straightened(stretch.back(), rate_), rate_);
    }
    const std::vector<float> wave = upright_wave(stretch, rate_, polarities_);
    std::size_t before = 0;
    for (const PulseCandidate& c : judge_pulse(wave, rate_, restarts(stretch, rate_), options_, decided)) {
      const std::size_t previous = before;
      if (c.beat) before = c.at;
      const std::size_t at = first_ + c.at;
      if (at < decided_until_ || at >= until) continue;
      if (c.beat) decided_beats_.push_back(at);
      const double position = static_cast<double>(first_) + systolic_peak_near(wave, c.at, rate_);
      Beat beat;
      beat.time = Seconds{position / rate_.value()};
      beat.sample = SampleIndex{std::lround(position)};
      beat.verdict = c.verdict;
      beat.confidence = pulse_confidence(c);
      if (const auto foot = c.beat ? upstroke_foot(wave, previous, c.at, rate_) : std::nullopt)
        beat.foot = Seconds{(static_cast<double>(first_) + *foot) / rate_.value()};
      out.push_back(beat);
    }
    decided_until_ = until;
  }

  void forget() {
    const auto kept = static_cast<std::size_t>(samples_in(memory, rate_));
    if (samples_[0].size() < kept + kept / 4) return;
    const std::size_t drop = samples_[0].size() - kept;
    for (auto& values : samples_) values.erase(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(drop));
    first_ += drop;
    std::erase_if(decided_beats_, [this](std::size_t beat) { return beat < first_; });
  }

  Hertz rate_;
  PulseOptions options_;
  std::vector<std::vector<float>> samples_;  // conditioned samples of the remembered stretch
  std::vector<PulsePolarity> polarities_;
  std::size_t block_;
  std::size_t received_ = 0;
  std::size_t first_ = 0;
  std::size_t decided_until_ = 0;
  std::vector<std::size_t> decided_beats_;
};

}  // namespace

std::unique_ptr<CausalDetector> make_pulse_detector(Hertz rate, std::size_t channels, const PulseOptions& options) {
  return std::make_unique<PulseDetector>(rate, channels, options);
}

}  // namespace pulsewright::beats_stage
