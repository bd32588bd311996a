/// What the ECG detector looks at: how much energy of the QRS complex there is around each moment.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Detection functions of one ECG signal on a common, slower grid. Sample k is centred on input sample k * step.
struct EcgTrack {
  Hertz rate;
  int step = 1;               ///< input samples per track sample
  std::vector<float> shape;   ///< the signal itself at the slower rate
  std::vector<float> narrow;  ///< energy about 16 Hz: the steep part of the QRS complex
  std::vector<float> wide;    ///< energy about 7 Hz: wide complexes, and T waves
};

/// How many samples of a track are nearest to a length.
[[nodiscard]] inline std::size_t track_samples(Seconds length, Hertz track_rate) {
  return static_cast<std::size_t>(std::lround(samples_in(length, track_rate)));
}

/// Makes an EcgTrack in one pass. Linear phase, so that a track sample is aligned with the input; the output does not
/// depend on how the input is cut into chunks. A gap is bridged by the last value before it, and the step after it dies away.
class EcgTracker {
 public:
  explicit EcgTracker(Hertz input_rate);

  /// Appends to `track` what the new samples make known.
  void push(std::span<const float> values, EcgTrack& track);
  /// Appends the rest, as if the signal went on at zero.
  void finish(EcgTrack& track);

  /// Computes the energies of track samples [first, last) anew, after `shape` has been changed. Beyond the ends of the track the signal counts as zero.
  void renew(EcgTrack& track, std::size_t first, std::size_t last) const;
  /// How far from a changed sample of `shape` energies change.
  [[nodiscard]] std::size_t reach() const { return wide_.even.size() - 1; }

  [[nodiscard]] EcgTrack empty_track() const;
  /// How long after a sample its track sample is known.
  [[nodiscard]] Seconds delay() const;

 private:
  // One complex wavelet as a symmetric and an antisymmetric half, tap 0 at the centre.
  struct Wavelet {
    std::vector<float> even, odd;
  };
  static Wavelet make_wavelet(double centre_hz, double sigma_s, double rate_hz);
  // Energies of `count` samples from `centre` on, by both wavelets; as many as the wide one has taps are there to either side.
  void energies(const float* centre, std::size_t count, float* narrow, float* wide) const;
  void bridge(std::span<const float> values);
  void decimate(std::span<const float> values);
  void transform(EcgTrack& track);

  int step_;
  Hertz rate_;
  Wavelet narrow_, wide_;
  std::vector<float> low_;   // triangular decimation kernel
  std::vector<float> raw_;   // input not yet fully used by the decimation
  std::vector<float> slow_;  // decimated samples not yet fully used by the wavelets
  std::int64_t received_ = 0;
  std::int64_t emitted_ = 0;
  float last_ = 0;       // what stands for a missing sample
  bool missing_ = true;  // the sample before was not recorded: so before the start
  float step_over_ = 0;  // what is left of the step over the last gap
  float fading_ = 0;     // of that step, per sample
};

}  // namespace pulsewright::beats_stage
