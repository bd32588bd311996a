/// Stage 5b: Intervals -> heart-rate variability: the measures of Task Force of ESC/NASPE 1996 (Circulation 93:1043) over time and frequency, and the
/// accepted measures of scatter, regularity and scaling. A measure that the record is too short or too much corrected for has no value and a reason.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/complexity.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

/// Why a measure has no value. `measure` is its JSON key.
struct Reason {
  std::string measure;
  std::string reason;
};

/// A band of frequencies [low, high).
struct Band {
  Hertz low;
  Hertz high;
};

/// Bands of the Task Force 1996.
struct Bands {
  Band ulf{Hertz{0.0}, Hertz{0.003}};
  Band vlf{Hertz{0.003}, Hertz{0.04}};
  Band lf{Hertz{0.04}, Hertz{0.15}};
  Band hf{Hertz{0.15}, Hertz{0.40}};
};

/// Where the HF band lies.
enum class HighBand {
  fixed,           ///< as in `Bands`
  round_breathing  ///< around the breathing rate: in exercise one breathes faster than 0.40 Hz
};

enum class SpectrumMethod { welch, burg, covariance, lomb_scargle };

/// Lower-case words for files: `welch`, `burg`, `covariance`, `lomb_scargle`.
[[nodiscard]] const char* to_string(SpectrumMethod method);

struct SpectrumOptions {
  SpectrumMethod principal = SpectrumMethod::welch;  ///< whose powers stand for the record
  Bands bands;
  HighBand high_band = HighBand::fixed;
  /// Breaths per second where known. Else, for `round_breathing`, the highest peak of the principal spectrum between the LF band and half the mean rate of
  /// the beats.
  std::optional<Hertz> breathing;
  Hertz half_width{0.10};  ///< of the band around breathing; it never reaches into LF (ours)
  Hertz grid{4.0};         ///< rate of the even grid of Welch's method
  Hertz model_grid{
      2.0};  ///< of the autoregressive models: the less of the grid is empty, the lower the order that is needed
  WelchOptions welch;  ///< a record of less than two segments is cut into halves, of 60 s at least
  AutoregressiveOptions model;
  /// Given: the trend of `smooth_trend` is removed on the even grid (not from Lomb-Scargle). Bands that it takes out have no value then.
  std::optional<double> trend_lambda;
};

/// Powers by one estimator, in ms2.
struct BandPowers {
  SpectrumMethod method = SpectrumMethod::welch;
  std::optional<double> ulf_power_ms2, vlf_power_ms2, lf_power_ms2, hf_power_ms2;
  std::optional<double> total_power_ms2;  ///< from 0 Hz to the upper end of HF or 0.40 Hz, whichever is higher
  std::optional<double> lf_hf_ratio, lf_nu_percent, hf_nu_percent;  ///< normalised: share of LF + HF
  std::optional<double> vlf_peak_hz, lf_peak_hz, hf_peak_hz;
  std::optional<int> model_order;          ///< of an autoregressive model
  std::optional<double> variance_ms2;      ///< of the series that was transformed, n in the denominator
  std::optional<double> parseval_percent;  ///< all power up to the highest frequency, over that variance
  std::vector<Reason> reasons;
};

struct VariabilityOptions {
  /// Above this share of flagged intervals no measure is given (common practice: 5 to 20 per cent; ours is 20).
  double most_flagged_percent = 20.0;
  /// The same for spectra, entropies and scaling, which suffer sooner (ours, from the injection study in README).
  double most_flagged_of_course_percent = 10.0;
  /// A measure needs at least this many normal-to-normal intervals.
  int fewest_intervals = 2;
  Seconds extremes_window{10.0};  ///< over which the lowest and the highest rate are taken
  SpectrumOptions spectrum;
  EntropyOptions entropy;
  int entropy_scales = 5;
};

struct Variability {
  int nn_count = 0;          ///< normal-to-normal intervals used
  int difference_count = 0;  ///< pairs of neighbouring NN intervals
  std::optional<double> mean_nn_ms;
  std::optional<double> sdnn_ms;  ///< divides by n - 1
  std::optional<double> rmssd_ms;
  std::optional<double> sdsd_ms;  ///< divides by n - 1
  std::optional<int> nn50_count;
  std::optional<double> pnn50_percent;  ///< of the differences
  std::optional<double> mean_hr_bpm;    ///< 60000 / mean NN
  std::optional<double> min_nn_ms;
  std::optional<double> max_nn_ms;
  std::optional<double> flagged_percent;

  std::optional<int> nn20_count;
  std::optional<double> pnn20_percent;
  std::optional<double> cv_percent;        ///< SDNN / mean NN
  std::optional<double> sd_hr_bpm;         ///< of the rates of single intervals, n - 1
  std::optional<double> lowest_hr_bpm;     ///< mean rate of the slowest `extremes_window`
  std::optional<double> highest_hr_bpm;    ///< of the fastest
  std::optional<double> sdann_ms;          ///< SD of the mean NN of stretches of 5 min
  std::optional<double> sdnn_index_ms;     ///< mean of the SDs of stretches of 5 min
  std::optional<double> triangular_index;  ///< count over the highest bin of 1/128 s
  std::optional<double> tinn_ms;           ///< base of the triangle fitted to that histogram

  BandPowers power;                 ///< of the principal method
  std::vector<BandPowers> spectra;  ///< of every method, in the order of `SpectrumMethod`
  PowerDensity density;             ///< the principal's spectrum; empty where it has none
  Band hf_band;                     ///< that was used
  std::optional<Hertz> breathing;   ///< that the band follows

  std::optional<double> sd1_ms, sd2_ms, ellipse_area_ms2, sd1_sd2_ratio, lengthening_percent;  ///< see `Poincare`
  std::optional<double> sample_entropy, approximate_entropy;
  std::vector<std::optional<double>> multiscale_entropy;  ///< of scale 1, 2, ...; empty when none could be taken
  std::optional<double> alpha1;                           ///< DFA over 4 to 16 beats
  std::optional<double> alpha2;                           ///< DFA over 16 to 64 beats

  std::vector<Reason> reasons;  ///< one for each absent value
  Warnings warnings;
  Provenance provenance;
};

/// All measures over the corrected intervals. Differences are taken only between intervals that touch in time, neither of them interpolated; RMSSD, SDSD and SD1
/// add the expected squares of those into, inside and out of short runs of replaced ones, given the differences around (see README's study). The
/// other measures use every interval that has a value, Lomb-Scargle only measured ones. A rate that moves by more than 20 % of its mean from minute to minute, or
/// a mean above 100 beats/min, gives the warning `not_at_rest`: the measures are then right but compare with none taken at rest.
///
/// How much record a measure needs: HF 1 min, LF 2 min, the triangular index and TINN 20 min, ULF 18 h (Task Force 1996, whose norms for VLF are of 5 min,
/// though it calls that doubtful); SDANN and the SDNN index six stretches of 5 min (ours; theirs are of 24 h); entropies 200 intervals (Richman & Moorman 2000
/// ask for 10^m to 20^m; 200 is ours for m = 2); alpha1 64 and alpha2 256 intervals, four boxes of the longest length (ours).
[[nodiscard]] Variability variability(const Intervals& intervals, const VariabilityOptions& options = {});

struct SlidingOptions {
  Seconds window{300.0};
  Seconds step{60.0};
};

/// The measures of one window.
struct VariabilityWindow {
  Span span;
  Variability result;
};

/// Measures over windows [start, start + window) from 0, full ones only, each over the intervals that end inside it. The share of flagged intervals is each
/// window's own. Throws Error{contract} for a window or step that is not positive.
///
/// In exercise alpha1 over two minutes falls as the load rises; it is an estimate from some 250 beats and its error is large: over windows of 250 values of
/// white noise it spreads by 0.07 (one SD, by simulation, ours), and missed beats bias it upward from a few per cent on (Rogers et al. 2021, Sensors 21:821
/// [from memory]). A threshold read off one window is no measurement.
[[nodiscard]] std::vector<VariabilityWindow> sliding_variability(const Intervals& intervals,
                                                                 const SlidingOptions& windows = {},
                                                                 const VariabilityOptions& options = {});

}  // namespace pulsewright
