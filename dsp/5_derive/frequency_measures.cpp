#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include "elementary/elementary.hpp"
#include "variability_parts.hpp"

namespace pulsewright {

namespace {

/// Least length of record for each band. HF and LF: Task Force 1996 ("about 1 min", "about 2 min"). VLF: its norms are of 5 min, though it calls them
/// doubtful. ULF: it asks for 18 h of 24.
constexpr Seconds for_hf{60.0}, for_lf{120.0}, for_vlf{300.0}, for_ulf{64800.0};
/// Segments must hold this many periods of the upper end of a band to tell it from a constant (ours).
constexpr double least_periods = 2.0;
/// Total power reaches at least this far (Task Force 1996).
constexpr Hertz total_end{0.40};

/// A spectrum by one method, and what its series was like.
struct Estimate {
  SpectrumMethod method = SpectrumMethod::welch;
  std::variant<std::monostate, PowerDensity, AutoregressiveModel> spectrum;
  Hertz highest;           ///< frequency it reaches
  Seconds resolved;        ///< length that was transformed at once
  double variance = 0;     ///< of the series
  bool trend_out = false;  ///< the slow trend was removed
};

double variance_of(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double sum = 0.0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return sum / static_cast<double>(values.size());
}

/// The trend's lambda is stated for `SpectrumOptions::grid`; at another rate the same frequency asks for another one, as the square.
std::vector<EvenStretch> stretches(const NormalSeries& series, Hertz rate, const SpectrumOptions& options) {
  std::vector<EvenStretch> even = on_even_grid(series.intervals, rate);
  if (options.trend_lambda)
    for (EvenStretch& stretch : even) {
      const double ratio = rate / options.grid;
      const std::vector<double> trend = smooth_trend(stretch.ms, *options.trend_lambda * ratio * ratio);
      for (std::size_t i = 0; i < trend.size(); ++i) stretch.ms[i] -= trend[i];
    }
  return even;
}

/// Shortest segment that a record is cut into by itself: nine periods of 0.15 Hz (ours).
constexpr Seconds least_segment{60.0};
constexpr std::size_t fewest_samples = 24;  // of an even grid, and of beats

Estimate welch_estimate(const NormalSeries& series, const SpectrumOptions& options) {
  Estimate e{SpectrumMethod::welch, {}, 0.5 * options.grid, {}, 0.0, options.trend_lambda.has_value()};
  const std::vector<EvenStretch> even = stretches(series, options.grid, options);
  std::vector<double> all;
  Seconds longest;
  for (const EvenStretch& stretch : even) {
    all.insert(all.end(), stretch.ms.begin(), stretch.ms.end());
    longest = std::max(longest, stretch.length());
  }
  if (samples_in(longest, options.grid) < fewest_samples) return e;
  WelchOptions welch = options.welch;
  // One window over a whole record would hardly look at its ends.
  if (longest < 2.0 * welch.segment) welch.segment = std::min(welch.segment, std::max(least_segment, 0.5 * longest));
  e.resolved = std::min(longest, welch.segment);
  e.variance = variance_of(all);
  e.spectrum = welch_spectrum(even, welch);
  return e;
}

Estimate model_estimate(const NormalSeries& series, const SpectrumOptions& options, SpectrumMethod method) {
  Estimate e{method, {}, 0.5 * options.model_grid, {}, 0.0, options.trend_lambda.has_value()};
  const std::vector<EvenStretch> even = stretches(series, options.model_grid, options);
  const auto longest = std::max_element(
      even.begin(), even.end(), [](const EvenStretch& a, const EvenStretch& b) { return a.ms.size() < b.ms.size(); });
  if (longest == even.end() || longest->ms.size() < fewest_samples) return e;
  e.resolved = longest->length();
  e.variance = variance_of(longest->ms);
  e.spectrum =
      method == SpectrumMethod::burg ? burg_model(*longest, options.model) : covariance_model(*longest, options.model);
  return e;
}

Estimate lomb_scargle_estimate(const NormalSeries& series) {
  Estimate e;
  e.method = SpectrumMethod::lomb_scargle;
  TimedIntervals measured;
  for (const NormalInterval& interval : series.intervals)
    if (!interval.replaced) {
      measured.time_s.push_back(interval.end.value());
      measured.ms.push_back(interval.ms);
    }
  if (measured.ms.size() < fewest_samples) return e;
  e.resolved = Seconds{measured.time_s.back() - measured.time_s.front()};
  e.variance = variance_of(measured.ms);
  PowerDensity density = lomb_scargle_spectrum(measured);
  e.highest = density.first + static_cast<double>(density.density_ms2_per_hz.size()) * density.step;
  e.spectrum = std::move(density);
  return e;
}

double power(const Estimate& e, Hertz low, Hertz high) {
  if (const auto* density = std::get_if<PowerDensity>(&e.spectrum)) return density->power_ms2(low, high);
  return std::get<AutoregressiveModel>(e.spectrum).power_ms2(low, high);
}

std::optional<double> peak(const Estimate& e, const Band& band) {
  std::optional<Hertz> at;
  if (const auto* density = std::get_if<PowerDensity>(&e.spectrum))
    at = density->peak(band.low, band.high);
  else
    at = std::get<AutoregressiveModel>(e.spectrum).peak(band.low, band.high);
  return at ? std::optional<double>(at->value()) : std::nullopt;
}

/// An autoregressive model is sampled this finely, for looking at; its powers and peaks come from its poles.
constexpr Hertz model_step{0.001};

PowerDensity density_of(const Estimate& e) {
  if (const auto* density = std::get_if<PowerDensity>(&e.spectrum)) return *density;
  PowerDensity sampled{Hertz{0.0}, model_step, {}};
  if (const auto* model = std::get_if<AutoregressiveModel>(&e.spectrum)) {
    const auto size = static_cast<std::size_t>(e.highest / model_step) + 1;
    sampled.density_ms2_per_hz.reserve(size);
    for (std::size_t i = 0; i < size; ++i)
      sampled.density_ms2_per_hz.push_back(model->density_ms2_per_hz(static_cast<double>(i) * model_step));
  }
  return sampled;
}

/// Where the removal of the trend leaves half the amplitude.
Hertz trend_edge(const SpectrumOptions& options) {
  const double lambda = std::max(0.25, *options.trend_lambda);
  return options.grid * (elementary::acos(1.0 - 0.5 / lambda) / (2.0 * std::numbers::pi));
}

constexpr const char* powers[] = {"ulf_power_ms2",   "vlf_power_ms2", "lf_power_ms2",  "hf_power_ms2",
                                  "total_power_ms2", "lf_hf_ratio",   "lf_nu_percent", "hf_nu_percent",
                                  "vlf_peak_hz",     "lf_peak_hz",    "hf_peak_hz",    "variance_ms2",
                                  "parseval_percent"};

void refuse_powers(BandPowers& result, const std::string& why) {
  for (const char* measure : powers) result.reasons.push_back({measure, why});
}

void fill(const Estimate& e, Seconds length, const Band& hf, const SpectrumOptions& options, BandPowers& result) {
  const Bands& bands = options.bands;
  const bool is_model = std::holds_alternative<AutoregressiveModel>(e.spectrum);
  const auto why_not = [&](const Band& band, Seconds needed) -> std::string {
    if (!long_enough(length, needed))
      return fmt::format("The record of {:.0f} s is shorter than the {:g} s that the band needs.", length.value(),
                         needed.value());
    if (e.highest < band.high)
      return fmt::format("The band ends above {:.3f} Hz, half the rate of the samples.", e.highest.value());
    if (band.high * (e.resolved / Seconds{1.0}) < Hertz{least_periods} || (is_model && needed == for_ulf))
      return "The method does not resolve frequencies this low; Lomb-Scargle over the whole record does.";
    if (e.trend_out && trend_edge(options) > 0.5 * (band.low + band.high))
      return fmt::format("The removed trend takes out what is below {:.3f} Hz.", trend_edge(options).value());
    return {};
  };
  const auto take = [&](const Band& band, Seconds needed, const char* key, const char* peak_key,
                        std::optional<double>& value, std::optional<double>* at) {
    const std::string why = why_not(band, needed);
    if (why.empty()) {
      value = power(e, band.low, band.high);
      if (at == nullptr) return;
      *at = peak(e, band);
      if (!*at) result.reasons.push_back({peak_key, "The band has no peak inside."});
      return;
    }
    result.reasons.push_back({key, why});
    if (at != nullptr) result.reasons.push_back({peak_key, why});
  };
  take(bands.ulf, for_ulf, "ulf_power_ms2", "", result.ulf_power_ms2, nullptr);
  take(bands.vlf, for_vlf, "vlf_power_ms2", "vlf_peak_hz", result.vlf_power_ms2, &result.vlf_peak_hz);
  take(bands.lf, for_lf, "lf_power_ms2", "lf_peak_hz", result.lf_power_ms2, &result.lf_peak_hz);
  take(hf, for_hf, "hf_power_ms2", "hf_peak_hz", result.hf_power_ms2, &result.hf_peak_hz);
  take({Hertz{0.0}, std::min(e.highest, std::max(total_end, hf.high))}, for_lf, "total_power_ms2", "",
       result.total_power_ms2, nullptr);

  if (result.lf_power_ms2 && result.hf_power_ms2 && *result.hf_power_ms2 > 0.0 && *result.lf_power_ms2 > 0.0) {
    const double both = *result.lf_power_ms2 + *result.hf_power_ms2;
    result.lf_hf_ratio = *result.lf_power_ms2 / *result.hf_power_ms2;
    result.lf_nu_percent = 100.0 * *result.lf_power_ms2 / both;
    result.hf_nu_percent = 100.0 * *result.hf_power_ms2 / both;
  } else {
    refuse(result.reasons, {"lf_hf_ratio", "lf_nu_percent", "hf_nu_percent"}, "LF or HF has no power to compare.");
  }
  if (is_model) result.model_order = std::get<AutoregressiveModel>(e.spectrum).order();
  result.variance_ms2 = e.variance;
  if (e.variance > 0.0)
    result.parseval_percent = 100.0 * power(e, Hertz{0.0}, e.highest + Hertz{1.0}) / e.variance;
  else
    refuse(result.reasons, {"parseval_percent"}, "The intervals do not vary.");
}

}  // namespace

const char* to_string(SpectrumMethod method) {
  switch (method) {
    case SpectrumMethod::welch: return "welch";
    case SpectrumMethod::burg: return "burg";
    case SpectrumMethod::covariance: return "covariance";
    case SpectrumMethod::lomb_scargle: return "lomb_scargle";
  }
  return "";
}

void frequency_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result) {
  const SpectrumOptions& o = options.spectrum;
  const Estimate estimates[] = {welch_estimate(series, o), model_estimate(series, o, SpectrumMethod::burg),
                                model_estimate(series, o, SpectrumMethod::covariance), lomb_scargle_estimate(series)};
  const Estimate& principal = estimates[static_cast<std::size_t>(o.principal)];

  result.hf_band = o.bands.hf;
  if (o.high_band == HighBand::round_breathing) {
    result.breathing = o.breathing;
    if (!result.breathing && !std::holds_alternative<std::monostate>(principal.spectrum)) {
      const Hertz half_rate{0.5 * *result.mean_hr_bpm / 60.0};
      const auto at = peak(principal, {o.bands.lf.high, std::min(half_rate, principal.highest)});
      if (at) result.breathing = Hertz{*at};
    }
    if (result.breathing)
      result.hf_band = {std::max(o.bands.lf.high, *result.breathing - o.half_width), *result.breathing + o.half_width};
    else
      result.warnings.push_back({"no_breathing", "No peak of breathing was found; HF is the fixed band."});
  }
  for (const Estimate& e : estimates) {
    BandPowers powers_of_it;
    powers_of_it.method = e.method;
    if (std::holds_alternative<std::monostate>(e.spectrum))
      refuse_powers(powers_of_it, "Too few intervals that follow each other for a spectrum.");
    else
      fill(e, series.length(), result.hf_band, o, powers_of_it);
    result.spectra.push_back(std::move(powers_of_it));
  }
  result.power = result.spectra[static_cast<std::size_t>(o.principal)];
  result.density = density_of(principal);
  result.reasons.insert(result.reasons.end(), result.power.reasons.begin(), result.power.reasons.end());
}

void refuse_frequency(Variability& result, const std::string& why) {
  refuse_powers(result.power, why);
  result.reasons.insert(result.reasons.end(), result.power.reasons.begin(), result.power.reasons.end());
}

}  // namespace pulsewright
