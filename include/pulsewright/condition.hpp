/// Stage 2: Recording -> Signal. Filters, resampling, gaps, and how far each second can be trusted.
#pragma once

#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

// ---------------------------------------------------------------------------------------------- filters

/// One second-order section, H(z) = (b0 + b1 z^-1 + b2 z^-2) / (1 + a1 z^-1 + a2 z^-2).
struct Section {
  double b0 = 1, b1 = 0, b2 = 0, a1 = 0, a2 = 0;
};

/// A recursive filter as a cascade of sections, applied first to last.
using Sections = std::vector<Section>;

/// Butterworth designs by bilinear transform with pre-warped edges; -3 dB at the edges. `order` is that of the low-pass
/// prototype (a band-pass of order 2 has four poles), 1 to 12. Edges must lie strictly between 0 and half the rate, low below high;
/// otherwise Error{contract}.
[[nodiscard]] Sections butterworth_lowpass(int order, Hertz edge, Hertz rate);
[[nodiscard]] Sections butterworth_highpass(int order, Hertz edge, Hertz rate);
[[nodiscard]] Sections butterworth_bandpass(int order, Hertz low, Hertz high, Hertz rate);
[[nodiscard]] Sections butterworth_bandstop(int order, Hertz low, Hertz high, Hertz rate);
/// A second-order notch at `centre`, -3 dB width `centre / quality`.
[[nodiscard]] Sections notch(Hertz centre, double quality, Hertz rate);

/// Complex gain at frequency `f`.
[[nodiscard]] std::complex<double> gain_at(const Sections& filter, Hertz f, Hertz rate);

/// A filter used causally. Its output does not depend on how the input is cut into chunks. State is double, samples float.
class CausalFilter {
 public:
  explicit CausalFilter(const Sections& sections);
  /// Filters `in` to `out` (same length; may be the same memory). On the first sample the state is set as if that value had always been there.
  void process(std::span<const float> in, std::span<float> out);
  /// Forgets everything, as after construction.
  void reset();

 private:
  Sections sections_;
  std::vector<double> memory_;  ///< two numbers a section
  bool primed_ = false;
};

/// Filters forwards and backwards: no phase shift, the gain squared. Ends are extended by odd reflection, as long as the
/// filter needs to settle or the signal allows. Empty in, empty out. `values` must be finite.
[[nodiscard]] std::vector<float> filter_zero_phase(const Sections& filter, std::span<const float> values);

/// Changes the sampling rate by `up / down` with a linear-phase windowed-sinc filter (Kaiser). Output sample k is at the time of input
/// sample k * down / up; length ceil(n * up / down). Throws Error{contract} below 1, above 100000 in lowest terms, or for more than 2^30 samples.
[[nodiscard]] std::vector<float> resample(std::span<const float> values, int up, int down);

// ---------------------------------------------------------------------------------------------- signals

/// Why a second is not to be trusted.
enum class QualityFault { none, gap, flat, clipped, noise };

/// How far one second of a signal can be trusted.
struct SecondQuality {
  float index = 0;  ///< 0 (useless) to 1 (clean)
  QualityFault fault = QualityFault::none;
};

/// One conditioned channel: samples on a uniform grid, baseline removed, mains hum removed where it was found. A sample
/// inside a gap is NaN. Sample i is at `start + i / rate`.
struct Signal {
  std::string channel;
  ChannelKind kind = ChannelKind::other;
  std::string unit;  ///< of the values; empty when the file does not say
  Hertz rate;
  Seconds start;
  std::vector<float> values;
  std::vector<Span> gaps;
  std::vector<SecondQuality> quality;  ///< second k covers [start + k, start + k + 1)
  std::optional<Hertz> mains;          ///< the hum that was found and notched; nothing when there was none
  Warnings warnings;
};

/// What is done about mains hum.
enum class MainsChoice {
  automatic,  ///< notched only where the spectrum shows it
  none,       ///< never notched
  at_50_hz,   ///< notched at 50 Hz whatever the spectrum shows
  at_60_hz,   ///< the same at 60 Hz
};

struct ConditionOptions {
  /// Baseline corner. ECG: 0.67 Hz, the low-frequency limit that keeps the ST segment for zero-phase use (AHA 2007 recommendations,
  /// Kligfield et al., Circulation 115:1306 [from memory]). Pulse: 0.4 Hz keeps 24 beats/min (ours).
  Hertz ecg_baseline{0.67};
  Hertz pulse_baseline{0.4};
  /// Upper corner for pulse signals: the wave has little above 8 Hz (common practice).
  Hertz pulse_top{8.0};
  /// Shorter gaps are bridged by a straight line; longer ones stay gaps.
  Seconds bridge{0.05};
  /// The streaming form has not seen the spectrum yet: there, `automatic` is `none`.
  MainsChoice mains = MainsChoice::automatic;
};

/// Conditions a channel as whole-file processing does: zero-phase.
/// Empty channel: empty signal. All-NaN channel: one gap. Throws Error{contract} when the rate is not positive.
[[nodiscard]] Signal condition(const Channel& channel, const ConditionOptions& options = {});

/// The channel on its uniform grid and nothing else done to it: what a sensor would have sent at a constant rate. Missing samples are NaN;
/// no gaps or quality are listed. Throws as `condition`.
[[nodiscard]] Signal uniform_signal(const Channel& channel, const ConditionOptions& options = {});

/// The causal form of `condition` for one uniform channel: same filters, forward only.
class StreamingConditioner {
 public:
  StreamingConditioner(ChannelKind kind, Hertz rate, const ConditionOptions& options = {});
  /// Appends as many conditioned samples to `out` as samples came in; a NaN in is a NaN out.
  void push(std::span<const float> in, std::vector<float>& out);

 private:
  CausalFilter filter_;
  std::vector<std::size_t> missing_;
  float last_ = 0;
  bool seen_ = false;
};

/// Tells ECG from optical pulse by shape, for channels whose name says nothing; `other` when neither is likely, when the channel is flat or
/// shorter than 3 s, or sampled below 16 Hz. Measured in stretches of 10 s spread over the channel, medians taken: the share of slope energy in
/// the steepest tenth of the samples, the share of power below 8 Hz, how much of the power is quicker than breathing, and repetition.
/// It does not tell an arterial pressure wave from an optical pulse, and a body that moves in step often not either: look at what moves only when
/// nothing else is there. Throws Error{contract} when the rate is not positive.
[[nodiscard]] ChannelKind guess_kind(const Channel& channel);

}  // namespace pulsewright
