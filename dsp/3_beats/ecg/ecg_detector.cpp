#include <algorithm>
#include <cmath>
#include <memory>

#include "3_beats/causal_detector.hpp"
#include "3_beats/fiducial.hpp"
#include "3_beats/unreadable.hpp"
#include "ecg_confidence.hpp"
#include "ecg_judge.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {
namespace {

// A candidate is committed when this much of what follows it has been seen, at the end of a block of this length.
constexpr Seconds seen_after{1.0};
constexpr Seconds block_length{0.25};
// What came before is remembered this long: some hundred beats for level, templates and rhythm. With 40 s rare beats have no template yet (development records: 0.32 % instead of 0.26 %).
constexpr Seconds memory{80.0};

// The causal form of the ECG detector: the judgement of whole-file processing, shown the last 80 s, its earlier decisions standing.
class EcgDetector final : public CausalDetector {
 public:
  EcgDetector(Hertz rate, std::size_t channels, const EcgOptions& options)
      : rate_(rate), options_(options), samples_(channels), polarities_(channels) {
    trackers_.reserve(channels);
    for (std::size_t k = 0; k < channels; ++k) {
      trackers_.emplace_back(rate);
      tracks_.push_back(trackers_.back().empty_track());
    }
    step_ = static_cast<std::size_t>(tracks_[0].step);
    block_ = std::max(step_, static_cast<std::size_t>(samples_in(block_length, rate)) / step_ * step_);
  }

  void push(std::span<const std::vector<float>> conditioned, std::vector<Beat>& out) override {
    for (std::size_t k = 0; k < trackers_.size(); ++k) {
      samples_[k].insert(samples_[k].end(), conditioned[k].begin(), conditioned[k].end());
      trackers_[k].push(conditioned[k], tracks_[k]);
    }
    received_ += conditioned[0].size();
    if (received_ % block_ != 0) return;
    const auto wait = static_cast<std::size_t>(std::ceil(samples_in(seen_after, tracks_[0].rate)));
    const std::size_t known = first_ + tracks_[0].narrow.size();
    if (known > wait) decide(known - wait, out);
    forget();
  }

  void finish(std::vector<Beat>& out) override {
    for (std::size_t k = 0; k < trackers_.size(); ++k) trackers_[k].finish(tracks_[k]);
    decide(first_ + tracks_[0].narrow.size(), out);
  }

  [[nodiscard]] Seconds look_ahead() const override {
    return seen_after + time_of(SampleIndex{static_cast<std::int64_t>(block_)}, rate_) + trackers_[0].delay() +
           period(tracks_[0].rate);
  }
  [[nodiscard]] std::size_t block() const override { return block_; }

 private:
  // Decides the candidates before track sample `until`, counted from the start.
  void decide(std::size_t until, std::vector<Beat>& out) {
    if (until <= committed_until_) return;
    CommittedBeats committed;
    committed.until = committed_until_ > first_ ? committed_until_ - first_ : 0;
    for (const std::size_t beat : committed_beats_) {
      if (beat >= first_) committed.beats.push_back(beat - first_);
    }
    std::vector<std::span<const float>> values;
    for (const auto& samples : samples_) values.emplace_back(samples);
    std::vector<std::size_t> resumed = restarts(values, rate_);
    for (std::size_t& sample : resumed) sample /= step_;
    const std::vector<EcgCandidate> judged = judge_ecg(tracks_, resumed, options_, committed);
    for (std::size_t k = 0; k < tracks_.size(); ++k) {
      std::vector<std::int64_t> centres;
      for (const EcgCandidate& c : judged) {
        if (c.beat && c.signal == k && first_ + c.at < until)
          centres.push_back(static_cast<std::int64_t>(c.at * step_));
      }
      polarities_[k].learn(samples_[k], centres, rate_);
    }

    std::vector<Beat> beats;
    for (const EcgCandidate& c : judged) {
      const std::size_t at = first_ + c.at;
      if (at < committed_until_ || at >= until) continue;
      if (c.beat) committed_beats_.push_back(at);
      const double position =
          static_cast<double>(first_ * step_) +
          r_peak_near(samples_[c.signal], static_cast<double>(c.at * step_), polarities_[c.signal].upward(), rate_);
      Beat beat;
      beat.time = Seconds{position / rate_.value()};
      beat.sample = SampleIndex{std::lround(position)};
      beat.confidence = ecg_confidence(c.log_odds, c.beat);
      beat.verdict = c.verdict;
      beats.push_back(beat);
    }
    committed_until_ = until;
    std::stable_sort(beats.begin(), beats.end(), [](const Beat& a, const Beat& b) { return a.time < b.time; });
    for (Beat& beat : beats) {
      if (beat.verdict == BeatVerdict::accepted) {
        if (any_ && beat.time - last_ < 0.5 * options_.refractory) {
          beat.verdict = BeatVerdict::too_soon;
        } else {
          last_ = beat.time;
          any_ = true;
        }
      }
      out.push_back(beat);
    }
  }

  void forget() {
    const auto kept = static_cast<std::size_t>(samples_in(memory, tracks_[0].rate));
    // In steps of a quarter of the memory, so that little is moved.
    if (tracks_[0].narrow.size() < kept + kept / 4) return;
    const std::size_t drop = tracks_[0].narrow.size() - kept;
    const auto cut = [](std::vector<float>& v, std::size_t n) {
      v.erase(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(n));
    };
    for (std::size_t k = 0; k < tracks_.size(); ++k) {
      cut(tracks_[k].shape, drop);
      cut(tracks_[k].narrow, drop);
      cut(tracks_[k].wide, drop);
      cut(samples_[k], drop * step_);
    }
    first_ += drop;
    std::erase_if(committed_beats_, [this](std::size_t beat) { return beat < first_; });
  }

  Hertz rate_;
  EcgOptions options_;
  std::vector<EcgTracker> trackers_;
  std::vector<EcgTrack> tracks_;             // the remembered stretch
  std::vector<std::vector<float>> samples_;  // conditioned samples of the same stretch
  std::size_t step_ = 1;
  std::size_t block_ = 1;
  std::size_t received_ = 0;
  std::size_t first_ = 0;  // track sample at which the remembered stretch begins
  std::size_t committed_until_ = 0;
  std::vector<std::size_t> committed_beats_;
  std::vector<Polarity> polarities_;
  Seconds last_;
  bool any_ = false;
};

}  // namespace

std::unique_ptr<CausalDetector> make_ecg_detector(Hertz rate, std::size_t channels, const EcgOptions& options) {
  return std::make_unique<EcgDetector>(rate, channels, options);
}

}  // namespace pulsewright::beats_stage
