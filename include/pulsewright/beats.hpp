/// Stage 3: Signal -> BeatTrain. Finding is separate from judging: a detector proposes candidates, named rules accept
/// or reject each and the verdict stays with it.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/condition.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// What became of a candidate.
enum class BeatVerdict {
  accepted,
  too_soon,        ///< inside the refractory time of a stronger neighbour
  repolarisation,  ///< a T wave
  weak,            ///< below the threshold of its surroundings
  reflected,       ///< a dicrotic wave
  unreadable,      ///< inside a stretch declared unreadable
  off_rhythm,      ///< no plausible path through the beats uses it
};

/// What kind of beat it was, where that is known.
enum class BeatLabel { unlabelled, normal, supraventricular, ventricular, fusion, paced, unclassifiable };

/// Lower-case words for files (`accepted`, `too_soon`, ...; `unlabelled`, `normal`, ...).
[[nodiscard]] const char* to_string(BeatVerdict verdict);
[[nodiscard]] const char* to_string(BeatLabel label);

/// One candidate beat.
struct Beat {
  Seconds time;           ///< of the fiducial point (ECG: R peak; pulse: systolic peak), to a fraction of a sample
  SampleIndex sample;     ///< nearest stored sample of the channel it was found in
  double confidence = 0;  ///< probability that it lies within 150 ms of a true beat
  BeatVerdict verdict = BeatVerdict::accepted;
  BeatLabel label = BeatLabel::unlabelled;
  /// Of a pulse taken for a beat: where its upstroke begins, by intersecting tangents on the wave between 0.4 and 8 Hz.
  std::optional<Seconds> foot = std::nullopt;
};

/// Which wave a train was found in.
enum class BeatSource { ecg, pulse, intervals, file };

[[nodiscard]] const char* to_string(BeatSource source);

/// The beats of one person over one recording.
struct BeatTrain {
  std::vector<Beat> candidates;  ///< every candidate in time order, the rejected ones included
  std::vector<Span> unreadable;  ///< where beats were not looked for, or not to be found; ordered, disjoint
  Seconds duration;              ///< of the recording
  BeatSource source = BeatSource::file;
  Warnings warnings;
  Provenance provenance;

  /// The accepted beats, in time order.
  [[nodiscard]] std::vector<Beat> accepted() const;
  /// Times of the accepted beats.
  [[nodiscard]] std::vector<Seconds> times() const;
};

struct EcgOptions {
  /// No two beats are closer: the absolute refractory time of the ventricle (common practice: 200 ms).
  Seconds refractory{0.200};
};

struct PulseOptions {
  /// No two pulses are closer: 0.25 s is 240 beats/min.
  Seconds refractory{0.25};
};

/// Finds the beats of one or more ECG signals of the same heart, fused. Signals must share a rate and a start (Error{contract}).
/// Stretches in which complexes are lower than 0.17 mV from peak to peak (where the unit is V, mV or uV; else there is no floor) or half their height is over within 8 ms
/// are unreadable.
/// No signal, or none readable: no beats, everything unreadable, and a warning.
[[nodiscard]] BeatTrain find_ecg_beats(std::span<const Signal> signals, Seconds duration,
                                       const EcgOptions& options = {});

/// What a detector measured of one candidate, in the order of `names_of_ecg_features` or `names_of_pulse_features`.
struct BeatEvidence {
  Seconds time;  ///< of the candidate on the detector's grid
  std::vector<double> features;
  double log_odds = 0;  ///< of being a beat, before the rhythm is asked
  bool accepted = false;
};

/// The evidence behind `find_ecg_beats`, for showing how it was computed and for setting the weights. One signal stretch of any length,
/// judged at once; same errors. Several signals: what they show together.
[[nodiscard]] std::vector<BeatEvidence> ecg_evidence(std::span<const Signal> signals, const EcgOptions& options = {});
[[nodiscard]] std::vector<std::string> names_of_ecg_features(std::size_t signals = 1);

/// The same behind `find_pulse_beats`, for setting the confidence.
[[nodiscard]] std::vector<BeatEvidence> pulse_evidence(std::span<const Signal> signals,
                                                       const PulseOptions& options = {});
[[nodiscard]] std::vector<std::string> names_of_pulse_features();

/// `find_ecg_beats` for optical pulse signals; the fiducial point is the systolic peak.
[[nodiscard]] BeatTrain find_pulse_beats(std::span<const Signal> signals, Seconds duration,
                                         const PulseOptions& options = {});

/// Which wave to look for.
enum class KindChoice { automatic, ecg, pulse };

struct FindOptions {
  KindChoice kind = KindChoice::automatic;
  std::vector<std::size_t> channels;  ///< positions from 0; empty: every channel of the kind
  bool streaming = false;             ///< the causal form
  ConditionOptions condition;
  EcgOptions ecg;
  PulseOptions pulse;
};

/// Conditions the chosen channels of a recording and finds the beats. Automatic kind: ECG channels when there are any, else pulse;
/// channels of no known kind are judged by shape.
/// Throws Error{usage} when no channel of the asked kind exists, listing the channels.
[[nodiscard]] BeatTrain find_beats(const Recording& recording, const FindOptions& options = {});

/// The channels that beats are looked for in, conditioned (in the causal form: only put on a uniform grid), all on one grid. At least one.
struct ChosenSignals {
  ChannelKind kind = ChannelKind::other;
  std::vector<std::size_t> channels;  ///< position in the recording, one a signal
  std::vector<Signal> signals;
  Warnings warnings;  ///< of the recording, and of choosing and conditioning
};

/// The two halves of `find_beats`, for whoever wants to show the signals as well. Throws as `find_beats`, and Error{contract} for no signal.
[[nodiscard]] ChosenSignals choose_signals(const Recording& recording, const FindOptions& options = {});
[[nodiscard]] BeatTrain find_beats(const Recording& recording, const ChosenSignals& chosen, const FindOptions& options);

/// What a detector measured of one candidate.
struct TracedCandidate {
  Seconds time;         ///< of the candidate on the detector's grid
  double size = 0;      ///< ECG: amplitude of the detection function; pulse: rise from the foot to the peak
  double usual = 0;     ///< the same of the beats around it
  double log_odds = 0;  ///< of being a beat, before the rhythm is asked
  BeatVerdict verdict = BeatVerdict::accepted;
};

/// What the detector looks at over a stretch, for showing how it was computed. Sample i of `function` is at `start + i / rate`.
struct DetectionTrace {
  Seconds start;
  Hertz rate{1.0};
  std::vector<float>
      function;  ///< ECG, first signal: amplitude about 16 Hz in the signal's unit; pulse: the signals as one upright wave
  std::vector<TracedCandidate> candidates;  ///< in time order
};

/// The whole-file judgement seen from inside, over `stretch` and what the signals have up to 45 s on either side. Fiducial points and unreadable
/// stretches are left to `find_beats`, so that times may differ from its own by some hundredths of a second. A stretch outside the signals
/// gives an empty trace. Throws Error{contract} for no signal, or signals that are not on one grid.
[[nodiscard]] DetectionTrace detection_trace(const ChosenSignals& chosen, Span stretch,
                                             const FindOptions& options = {});

/// The causal detector: samples in, beats out, in chunks of any size. The beats do not depend on the chunks.
class BeatStream {
 public:
  /// `kind` is ecg or pulse; `channels` signals arrive together at `rate`.
  BeatStream(ChannelKind kind, Hertz rate, std::size_t channels = 1, const FindOptions& options = {});
  ~BeatStream();
  BeatStream(BeatStream&&) noexcept;
  BeatStream& operator=(BeatStream&&) noexcept;

  /// Takes the same number of new samples of every channel and appends the candidates now decided to `out`, in time order.
  void push(std::span<const std::span<const float>> chunk, std::vector<Beat>& out);
  /// Decides what is left at the end of the recording. After it both calls throw Error{contract}.
  void finish(std::vector<Beat>& out);
  /// A beat is decided at most this long after its fiducial point.
  [[nodiscard]] Seconds look_ahead() const;
  /// Stretches so far in which no channel could be read: missing or flat samples.
  [[nodiscard]] std::vector<Span> unreadable() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace pulsewright
