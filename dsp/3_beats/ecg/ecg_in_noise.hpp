/// Complexes of the person, looked for in strong noise.
#pragma once

#include <cstddef>
#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"
#include "template_bank.hpp"
#include "whitening.hpp"

namespace pulsewright::beats_stage {

/// Which beats templates are made from: while the score knows nothing of noise, the sure ones in the quieter half; then all sure ones.
enum class TemplatesFrom { quieter_beats, sure_beats };

/// Where the background is high, the signal goes through a filter that makes the noise there white, and is held against complexes of the person that went through the same filter: what they have and the noise
/// has not counts most. That is the matched filter for coloured noise (from memory: Van Trees 1968, Detection, Estimation, and Modulation Theory, part I); its output is taken over the strength of the
/// whitened signal around it, as noise comes in bursts.
class SearchInNoise {
 public:
  /// Candidates must have their `noise_level` and `log_odds`.
  SearchInNoise(const std::vector<EcgCandidate>& candidates, const EcgTrack& track, TemplatesFrom from);

  /// Whether any candidate is in strong noise; without, nothing is done.
  [[nodiscard]] bool needed() const { return !spans_.empty(); }

  /// Adds a candidate where the match has a clear peak that no candidate is near to, with strength, breadth and background filled in.
  void propose(std::vector<EcgCandidate>& candidates, const EcgTrack& track) const;

  /// Fills `in_noise`, and of candidates in noise `match`, `match_alone`, `match_size` and `match_beside`. A candidate with a clear match is not out of the question.
  void measure(std::vector<EcgCandidate>& candidates) const;

 private:
  struct Peak {
    std::size_t at;
    float clearness;
  };
  void mark_noise(const std::vector<EcgCandidate>& candidates, std::size_t size);
  void learn(const std::vector<EcgCandidate>& candidates, TemplatesFrom from);
  void match();
  void find_peaks();
  [[nodiscard]] std::size_t best_near(std::size_t at) const;

  Hertz rate_;
  std::size_t before_, count_;  // window of a complex, in track samples
  SampleSpans spans_;           // in noise
  std::vector<float> white_;
  Templates templates_;
  float usual_product_ = 1;
  std::vector<float> product_, likeness_, clearness_;  // by track sample; 0 outside of the spans
  std::vector<Peak> peaks_;
};

}  // namespace pulsewright::beats_stage
