/// A scenario -> a Recording with known truth. The heart, the sensors, the movement and the faults are simulated; the beat times, labels,
/// rate course, movement and lost contact that went into the samples come out beside them.
///
/// Same scenario and seed, same bytes on any x86-64 machine: own random numbers and elementary functions, no libm. The heart's beats depend on
/// `Scenario::heart`, `phases` and `seed` alone, so that one session can be recorded by several devices: simulate it again with other sensors,
/// rate or faults and the beats stay.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

// ---------------------------------------------------------------------------------------------- the heart

/// A stretch of constant demand.
struct WorkPhase {
  std::string name;
  Seconds duration;
  double workload = 0;  ///< fraction of heart-rate reserve at which the heart settles, 0 to 1
  std::optional<BeatsPerMinute> target = std::nullopt;  ///< the rate at which it settles, instead of `workload`
  Hertz cadence{0.0};                                   ///< steps a second; 0: the person keeps still
  double movement = 1.0;  ///< strength of the movement at that cadence; 1: climbing stairs
};

/// Beats that do not come from the sinus node. None is placed where the interval leaves less than 0.28 s before it, and never two in a row.
struct EarlyBeats {
  double ventricular_per_minute = 0;  ///< mean number at random; wide, no P wave, T inverted, full compensatory pause
  double supraventricular_per_minute = 0;  ///< mean number at random; narrow, the sinus node starts again from it
  int ventricular_every = 0;               ///< every n-th beat is ventricular (2: bigeminy); 0: off
  double coupling = 0.65;                  ///< fraction of the normal interval after which they come, 0.4 to 0.9
};

/// One person's heart.
///
/// The rate course follows the workload with first-order kinetics. Beats come from integral pulse frequency modulation of that course by two
/// narrow bands, LF and breathing, after the RR spectrum of McSharry et al. 2003, IEEE TBME 50:289 (Gaussians at 0.1 and 0.25 Hz, SD 0.01 Hz,
/// LF/HF 0.5).
struct Heart {
  BeatsPerMinute resting{66.0};
  BeatsPerMinute maximum{205.0};
  Seconds rise{30.0};  ///< time constant when the rate goes up (ours, of the order found in young people)
  Seconds fall{60.0};  ///< time constant when it goes down: slower
  /// Slow upward drift at full workload when fully developed, and its time constant; in proportion to the workload.
  BeatsPerMinute drift{0.0};
  Seconds drift_rise{600.0};

  double resting_sdnn_ms = 50.0;  ///< SD of intervals at rest (Nunan et al. 2010, PACE 33:1407: 50 +- 16)
  double lf_hf = 0.5;             ///< ratio of the powers of the two bands at rest
  Hertz lf_centre{0.1};
  Hertz band_sd{0.01};          ///< spectral SD of either band
  Hertz resting_breaths{0.25};  ///< breathing rate at rest, rising in proportion to the reserve used, to
  Hertz fastest_breaths{0.75};  ///< 45 breaths a minute at the maximum (ours)
  /// How the depth of either band falls: exp(-fading * fraction of reserve). LF fades faster; what breathing leaves is
  /// mechanical (ours; leaves 3 to 4 ms of SDNN at 60 % of reserve).
  double lf_fading = 4.0;
  double breathing_fading = 2.5;

  EarlyBeats early;
};

// ---------------------------------------------------------------------------------------------- the device

/// What adds to a channel, each as RMS in the channel's unit.
struct Disturbance {
  double white = 0;
  double muscle = 0;    ///< band-limited above 20 Hz, swelling and fading
  double mains = 0;     ///< hum with a weak third harmonic
  double baseline = 0;  ///< wander below 0.5 Hz, half of its power with breathing
  Hertz mains_frequency{50.0};
  /// Scales the four together so that variance of the clean signal over variance of their sum is this many dB over the
  /// whole recording; white alone when all four are 0.
  std::optional<double> snr_db = std::nullopt;
};

/// An analog-digital converter: 2^bits codes from `low` up in equal steps of (high - low) / 2^bits, clipping at both ends.
struct Converter {
  int bits = 12;  ///< 1 to 24
  double low = 0;
  double high = 4096;

  /// Size of a step in the channel's unit.
  [[nodiscard]] double step() const;
};

/// A chest ECG. Waves after McSharry et al. 2003, closed form (see dsp/simulate/ecg_wave.hpp), in mV.
struct EcgSensor {
  std::string name = "ecg";
  double r_mv = 1.0;               ///< height of the R bell; Q and S take 1.4 % off its peak
  double breathing_depth = 0.05;   ///< relative change of the waves' height with breathing (SD)
  double movement_mv_per_g = 0.1;  ///< movement artefact
  Disturbance disturbance{.white = 0.01, .muscle = 0.01, .mains = 0.005, .baseline = 0.05};
  std::optional<Converter> converter = Converter{.bits = 12, .low = -5.0, .high = 5.0};
};

/// Which way the signal goes when blood fills the tissue. Raw light falls; many sensors turn it round.
enum class PulsePolarity { systole_up, systole_down };

/// An optical pulse sensor. Two Gaussians a beat, after Tang et al. 2020, Sci Rep 10 (s41598-020-69076-x), in converter counts.
/// A finger clip shines through (`amplitude` about a tenth of the range, little movement); a wrist or forehead sensor reads reflected
/// light (`amplitude` some hundredths, more movement): see `reflective()`.
struct PulseSensor {
  std::string name = "pulse";
  double level = 512.0;           ///< steady light
  double amplitude = 120.0;       ///< height of an ordinary pulse
  Seconds resting_delay{0.30};    ///< from R peak to systolic peak at rest (pre-ejection, transit and rise), falling
  Seconds shortest_delay{0.21};   ///< in proportion to the reserve used, to this at the maximum
  double breathing_depth = 0.08;  ///< relative change of amplitude with breathing (SD)
  double filling = 1.0;  ///< amplitude goes with (interval before / usual interval)^filling: early beats are weak
  double movement_per_g = 60.0;  ///< movement artefact, counts per g
  PulsePolarity polarity = PulsePolarity::systole_up;
  Disturbance disturbance{.white = 1.5, .baseline = 15.0};
  std::optional<Converter> converter = Converter{.bits = 10, .low = 0.0, .high = 1024.0};

  /// A wrist sensor by reflected light: systole down, a small pulse and strong movement artefacts.
  [[nodiscard]] static PulseSensor reflective();
};

/// A three-axis accelerometer on the same limb, in g. Channels `acc_x`, `acc_y`, `acc_z`.
struct MotionSensor {
  double noise_g = 0.01;
  std::optional<Converter> converter = Converter{.bits = 12, .low = -4.0, .high = 4.0};
};

/// How movement reaches the other sensors: the acceleration, weighted over the axes and late by `lag`, while the sensor is loose. While the
/// person moves, loose and tight spells alternate.
struct Loosening {
  Seconds loose{12.0};  ///< mean length of a loose spell
  Seconds tight{8.0};   ///< mean length of a tight one; 0: loose all the time
  Seconds lag{0.04};
};

/// What is stored while there is no contact.
enum class DropOutForm {
  gap,  ///< nothing: NaN
  flat  ///< the last value before it
};

struct DropOut {
  Span span;  ///< on the recording's clock
  DropOutForm form = DropOutForm::gap;
  ChannelKind kind = ChannelKind::pulse;  ///< every channel of this kind
};

/// Lost contact: planned stretches and random ones.
struct Contact {
  std::vector<DropOut> planned;
  double losses_per_minute = 0;
  Seconds mean_loss{4.0};  ///< exponential, at least 0.2 s
  DropOutForm form = DropOutForm::gap;
  ChannelKind kind = ChannelKind::pulse;
};

/// The device's clock. Sample i is taken when the device's clock shows i / rate, give or take the jitter.
struct SamplingClock {
  double error_ppm = 0;  ///< positive: the device's clock runs fast
  Seconds jitter{0.0};   ///< SD of the moment of sampling; cut off at 0.3 of a sample period
  /// The file states the moment of every sample, rounded to this step, and `Channel::times` is filled; nothing: it
  /// states only the rate. At most 0.4 of a sample period.
  std::optional<Seconds> stamps = std::nullopt;
};

// ---------------------------------------------------------------------------------------------- scenario and truth

/// Everything that goes into a simulation. Sensors that are absent are not recorded.
struct Scenario {
  std::string name = "untitled";
  std::string person;  ///< a code
  std::optional<double> age_years = std::nullopt;
  std::uint64_t seed = 1;
  std::vector<WorkPhase> phases;  ///< the recording lasts as long as all of them
  Heart heart;
  Hertz rate{250.0};
  std::optional<EcgSensor> ecg;
  std::optional<PulseSensor> pulse;
  std::optional<MotionSensor> motion;
  Loosening loosening;
  Contact contact;
  SamplingClock clock;

  [[nodiscard]] Seconds duration() const;
};

/// One heart beat. Times are on the recording's clock: what a perfect reader of the file would say.
struct TrueBeat {
  Seconds time;  ///< of the R peak: the local maximum of the noiseless ECG
  BeatLabel label = BeatLabel::normal;
  Seconds pulse_time;  ///< of the systolic peak: the local maximum of the noiseless pulse
  Seconds delay;       ///< pulse_time - time
  bool pulse_visible =
      true;  ///< false: the pulse is too weak to have a maximum of its own; `pulse_time` is where it was due
};

/// The courses that drive the heart, once a second. The rate has no LF or breathing modulation in it.
struct CoursePoint {
  Seconds time;
  BeatsPerMinute rate;
  double reserve = 0;   ///< fraction of reserve used
  double workload = 0;  ///< asked for by the phase
  Hertz breaths;
  Hertz cadence;
};

struct PhaseSpan {
  std::string name;
  Span span;
  double workload = 0;
};

struct Truth {
  std::vector<TrueBeat> beats;  ///< in time order; at least one of the two peaks lies inside the recording
  std::vector<CoursePoint> course;
  std::vector<PhaseSpan> phases;
  std::vector<Span> moving;        ///< the person moves
  std::vector<Span> artefacts;     ///< movement reaches the sensors: loose spells
  std::vector<DropOut> drop_outs;  ///< planned and random
  Seconds duration;
  double clock_error_ppm = 0;  ///< true time = recording's time / (1 + error_ppm * 1e-6)

  /// R peaks inside the recording as a train, all accepted, confidence 1. `sample` counts at `rate`.
  [[nodiscard]] BeatTrain ecg_train(Hertz rate) const;
  /// Visible systolic peaks inside the recording, the same way.
  [[nodiscard]] BeatTrain pulse_train(Hertz rate) const;
};

struct Simulation {
  Scenario scenario;
  Recording recording;
  Truth truth;

  /// Beats as a perfect reader of the recording finds them: R peaks when it has an ECG channel or no pulse channel, else systolic peaks.
  [[nodiscard]] BeatTrain readable_beats() const;
};

/// Simulates. Channels in the order ECG, pulse, acc_x, acc_y, acc_z. The recording holds round(duration * rate) samples a channel.
/// Throws Error{usage} naming the option, its value and the rule: no phases, a duration that is not positive or gives no sample, rates, time
/// constants, bits (1 to 24) or fractions out of range, no sensor at all, more than 2^27 samples.
[[nodiscard]] Simulation simulate(const Scenario& scenario);

/// Somebody who marks beats by eye or by hand: late or early, missing some, adding some.
struct Observer {
  double missed_percent = 2.0;
  double extra_per_minute = 0.5;
  Seconds timing_sd{0.015};
  std::uint64_t seed = 1;
};
/// The beats as such an observer would note them. Throws Error{usage} for negative numbers or more than 100 per cent.
[[nodiscard]] BeatTrain observe(const BeatTrain& truth, const Observer& observer);

// ---------------------------------------------------------------------------------------------- scenarios of our own

/// A scenario that comes with the program.
struct ScenarioName {
  std::string name;
  std::string summary;
};
/// `rest`, `stair-climb`, `steps`, `bigeminy`, ... in the order to show them.
[[nodiscard]] std::vector<ScenarioName> scenario_names();
/// People of the science club: `wren`, `heron`, `plover`, and five more.
[[nodiscard]] std::vector<std::string> scenario_people();
/// Throws Error{usage} listing what there is. Sensors: chest ECG, finger clip and accelerometer.
[[nodiscard]] Scenario named_scenario(const std::string& name, const std::string& person = "wren");
/// The same with all phases stretched or shortened in proportion, to last `duration` in all.
[[nodiscard]] Scenario stretched(Scenario scenario, Seconds duration);

// ---------------------------------------------------------------------------------------------- files

/// A file to be written: its name without a folder, and its bytes.
struct NamedBytes {
  std::string name;
  std::string bytes;
};

enum class SimulationFormat {
  text,        ///< `STEM.csv`: time_s, then a column NAME_UNIT for each channel; a gap is an empty cell
  open_record  ///< `STEM.hea`, `STEM.dat` (16-bit) and `STEM.atr`; needs a uniform clock
};

/// The recording and, beside it, the truth:
/// - `STEM_truth_beats.csv` (time_s,label): beats as a perfect reader of the recording finds them, R peaks when it has an ECG, else systolic peaks;
/// - `STEM_truth_pulse.csv` (time_s,label,delay_s): systolic peaks and how long after the R peak they are, when it has a pulse channel;
/// - `STEM_truth_rate.csv` (start_s,end_s,bpm): 60 (N - 1) / (last - first) over those beats in windows of 8 s every 2 s;
/// - `STEM_truth_course.csv` (time_s,course_bpm,reserve_percent,workload_percent,breaths_per_min,steps_per_min), once a second;
/// - `STEM_truth.json`: phases, movement, loose spells, drop-outs, clock error, and the whole scenario.
///
/// Throws Error{usage} when the open record format cannot hold the recording: it needs a uniform clock and converters of at most 16 bits whose
/// zero is a whole code.
[[nodiscard]] std::vector<NamedBytes> simulation_files(const Simulation& simulation, const std::string& stem,
                                                       SimulationFormat format = SimulationFormat::text);

/// Every option of a scenario as one JSON object.
[[nodiscard]] std::string scenario_json(const Scenario& scenario);

}  // namespace pulsewright
