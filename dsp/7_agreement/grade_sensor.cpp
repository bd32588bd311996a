#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "noise_floor.hpp"
#include "offset_line.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/sensor_grade.hpp"
#include "series_moments.hpp"

namespace pulsewright {
namespace {

std::vector<float> known_values(const Channel& channel) {
  std::vector<float> values;
  for (const float v : channel.samples)
    if (!std::isnan(v)) values.push_back(v);
  std::sort(values.begin(), values.end());
  return values;
}

/// Smallest difference between two different values, those that are rounding of a decimal left out.
std::optional<double> step_of(const std::vector<float>& sorted) {
  std::optional<double> least;
  const double size = std::max(std::abs(sorted.front()), std::abs(sorted.back()));
  constexpr double rounding = 1e-6;  // a float has seven digits
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    const double d = static_cast<double>(sorted[i]) - static_cast<double>(sorted[i - 1]);
    if (d > rounding * size && (!least || d < *least)) least = d;
  }
  return least;
}

double clipped_percent(const Channel& channel, float lowest, float highest) {
  constexpr std::size_t fewest = 3;
  std::size_t clipped = 0, run = 0;
  float last = NAN;
  const auto close = [&] {
    if (run >= fewest && (last == lowest || last == highest)) clipped += run;
  };
  for (const float v : channel.samples) {
    if (v == last) {
      ++run;
      continue;
    }
    close();
    last = v;
    run = 1;
  }
  close();
  return 100.0 * static_cast<double>(clipped) / static_cast<double>(channel.samples.size());
}

/// Jitter, lost samples and the longest gap.
void grade_clock(const Channel& channel, ChannelGrade& grade) {
  std::int64_t missing = 0, run = 0, longest = 0;
  for (const float v : channel.samples) {
    run = std::isnan(v) ? run + 1 : 0;
    missing += std::isnan(v) ? 1 : 0;
    longest = std::max(longest, run);
  }
  grade.lost = missing;
  grade.longest_gap = time_of(SampleIndex{longest}, channel.rate);
  grade.samples = static_cast<std::int64_t>(channel.samples.size());
  if (channel.times.size() < 3) {
    grade.reasons.push_back({"jitter_ms", "the file states an even rate and no moments of sampling"});
  } else {
    std::vector<double> steps;
    for (std::size_t i = 1; i < channel.times.size(); ++i) steps.push_back(channel.times[i] - channel.times[i - 1]);
    const double usual = median_of(steps);
    // Positions on the grid count lost samples in, so that a gap is no jitter.
    std::vector<double> position{0};
    for (const double step : steps) {
      const double count = std::max(1.0, std::round(step / usual));
      position.push_back(position.back() + count);
      grade.lost += static_cast<std::int64_t>(count) - 1;
      grade.longest_gap = std::max(grade.longest_gap, Seconds{(count - 1) * usual});
    }
    grade.samples += static_cast<std::int64_t>(position.back()) - static_cast<std::int64_t>(steps.size());
    const FittedLine line = fit_line(position, channel.times);
    double squares = 0;
    for (std::size_t i = 0; i < position.size(); ++i) {
      const double off = channel.times[i] - line.intercept - line.slope * position[i];
      squares += off * off;
    }
    grade.jitter_ms = 1000 * std::sqrt(squares / static_cast<double>(position.size() - 2));
  }
  if (grade.samples > 0)
    grade.lost_percent = 100.0 * static_cast<double>(grade.lost) / static_cast<double>(grade.samples);
}

/// Root mean square of the conditioned wave outside its gaps.
std::optional<double> wave_rms(const Signal& signal) {
  double sum = 0, count = 0;
  for (const float v : signal.values)
    if (!std::isnan(v)) {
      sum += static_cast<double>(v) * static_cast<double>(v);
      count += 1;
    }
  return count > 0 ? std::optional<double>(std::sqrt(sum / count)) : std::nullopt;
}

/// Pulse height, the median over beats of the range between a beat and the next, over the median of the raw values.
void grade_light(const std::vector<float>& sorted, const Signal& signal, const BeatTrain& beats, ChannelGrade& grade) {
  std::vector<double> heights;
  const std::vector<Seconds> times = beats.times();
  for (std::size_t i = 1; i < times.size(); ++i) {
    const auto from = nearest_sample(times[i - 1] - signal.start, signal.rate).value();
    const auto to = nearest_sample(times[i] - signal.start, signal.rate).value();
    constexpr std::int64_t longest_s = 3;
    if (from < 0 || to > static_cast<std::int64_t>(signal.values.size()) ||
        to - from > longest_s * static_cast<std::int64_t>(signal.rate.value()) || to <= from)
      continue;
    const auto [low, high] = std::minmax_element(signal.values.begin() + from, signal.values.begin() + to);
    if (std::isfinite(*low) && std::isfinite(*high))
      heights.push_back(static_cast<double>(*high) - static_cast<double>(*low));
  }
  if (heights.empty()) {
    grade.reasons.push_back({"perfusion_percent", "no beats were found"});
    return;
  }
  const double height = median_of(std::move(heights)), level = std::abs(static_cast<double>(sorted[sorted.size() / 2]));
  constexpr double steady = 2.0;  // steady light is at least twice as strong as the pulse in it
  if (level < steady * height)
    grade.reasons.push_back({"perfusion_percent", "the steady light is not part of the signal"});
  else
    grade.perfusion_percent = 100 * height / level;
}

void grade_wave(const Recording& recording, std::size_t position, const std::vector<float>& sorted,
                ChannelGrade& grade) {
  const Channel& channel = recording.channels[position];
  if (channel.kind != ChannelKind::ecg && channel.kind != ChannelKind::pulse) {
    for (const char* key : {"perfusion_percent", "readable_percent", "signal_to_noise_db"})
      grade.reasons.push_back({key, "the channel is neither ECG nor pulse"});
    return;
  }
  FindOptions only;
  only.kind = channel.kind == ChannelKind::ecg ? KindChoice::ecg : KindChoice::pulse;
  only.channels = {position};
  const ChosenSignals chosen = choose_signals(recording, only);
  const BeatTrain beats = find_beats(recording, chosen, only);
  Seconds unreadable;
  for (const Span& span : beats.unreadable) unreadable += span.length();
  if (beats.duration > Seconds{0})
    grade.readable_percent = std::clamp(100.0 * (1 - unreadable / beats.duration), 0.0, 100.0);
  else
    grade.reasons.push_back({"readable_percent", "the recording has no duration"});
  const Signal& signal = chosen.signals.front();
  const auto wave = wave_rms(signal);
  if (wave && *wave > 0 && grade.noise_rms && *grade.noise_rms > 0)
    grade.signal_to_noise_db = 20 * elementary::log10(*wave / *grade.noise_rms);
  else
    grade.reasons.push_back({"signal_to_noise_db", "there is no wave, or its noise could not be told"});
  if (channel.kind == ChannelKind::pulse)
    grade_light(sorted, signal, beats, grade);
  else
    grade.reasons.push_back({"perfusion_percent", "only a pulse has one"});
}

ChannelGrade grade_channel(const Recording& recording, std::size_t position, const GradeOptions& options) {
  const Channel& channel = recording.channels[position];
  ChannelGrade grade;
  grade.channel = channel.name;
  grade.unit = channel.unit;
  grade.kind = channel.kind;
  grade.rate = channel.rate;
  grade_clock(channel, grade);
  const std::vector<float> sorted = known_values(channel);
  if (sorted.empty()) {
    for (const char* key : {"step", "range", "noise_rms", "effective_bits", "signal_to_noise_db", "clipped_percent",
                            "hum_rms", "perfusion_percent", "readable_percent"})
      grade.reasons.push_back({key, "the channel has no samples"});
    return grade;
  }
  grade.step = step_of(sorted);
  if (!grade.step) grade.reasons.push_back({"step", "all samples are the same"});
  constexpr double outside = 0.001;
  const auto at = [&sorted](double share) {
    return static_cast<double>(sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))]);
  };
  grade.range = at(1 - outside) - at(outside);
  if (grade.step)
    grade.clipped_percent = clipped_percent(channel, sorted.front(), sorted.back());
  else
    grade.reasons.push_back({"clipped_percent", "all samples are the same"});

  const auto spectrum = noise_spectrum(channel);
  if (spectrum) {
    constexpr double low = 0.6, high = 0.95;  // of half the rate: above the wave, below the edge of filters
    grade.noise_rms = spectrum->white_rms(low * 0.5 * channel.rate.value(), high * 0.5 * channel.rate.value());
    grade.hum = find_hum(*spectrum, channel);
  }
  if (!grade.noise_rms)
    grade.reasons.push_back({"noise_rms", "fewer than two stretches of 4 s without gaps, or sampled below 16 Hz"});
  if (!grade.hum)
    grade.reasons.push_back({"hum_rms", "no line at 50 or 60 Hz stands out, or sampling folds it into the wave"});
  const double full = options.full_scale.value_or(*grade.range);
  if (grade.noise_rms && *grade.noise_rms > 0 && full > 0)
    grade.effective_bits = elementary::log2(full / (*grade.noise_rms * std::sqrt(12.0)));
  else
    grade.reasons.push_back({"effective_bits", "the noise could not be told, or there is none"});
  grade_wave(recording, position, sorted, grade);
  if (channel.kind == ChannelKind::ecg || channel.kind == ChannelKind::pulse)
    grade.needed = needed_rates(channel.rate, options);
  return grade;
}

}  // namespace

std::vector<NeededRate> needed_rates(Hertz rate, const GradeOptions& options) {
  for (const double value : {options.highest.value(), options.window.value(), options.rate_error_bpm, options.rmssd_ms,
                             options.rmssd_error_percent, options.full_scale.value_or(1.0)})
    if (!(value > 0)) throw Error{ErrorCode::contract, "grade: rates, errors and ranges must be positive"};
  std::vector<NeededRate> needed;
  const auto add = [&](const char* measure, std::string rule, double hertz) {
    needed.push_back({measure, std::move(rule), Hertz{hertz}, rate.value() >= hertz});
  };
  const double top = options.highest.value(), error = options.rate_error_bpm;
  // The window's beats span nearly all of it, and one sample more or less changes that span by 1 / rate.
  add("rate_over_window",
      fmt::format("one sample makes at most {:g} beats/min over {:g} s at {:g} beats/min", error,
                  options.window.value(), top),
      top / (options.window.value() * error));
  // d(60 / RR) = -60 / RR^2 dRR = -rate^2 / 60 dRR.
  add("rate_of_each_beat",
      fmt::format("one sample makes at most {:g} beats/min from beat to beat at {:g} beats/min", error, top),
      top * top / (60 * error));
  // Beats on whole samples have a variance of 1 / (12 rate^2); a difference of neighbouring intervals has six of it, 1 / (2 rate^2), added to RMSSD^2.
  const double r = options.rmssd_ms / 1000, grown = 1 + options.rmssd_error_percent / 100;
  add("rmssd",
      fmt::format("whole samples make an RMSSD of {:g} ms at most {:g} % too large", options.rmssd_ms,
                  options.rmssd_error_percent),
      1 / (r * std::sqrt(2 * (grown * grown - 1))));
  return needed;
}

SensorGrade grade_sensor(const Recording& recording, const GradeOptions& options) {
  static_cast<void>(needed_rates(Hertz{1}, options));  // refuses options that are not positive
  SensorGrade grade;
  grade.options = options;
  grade.warnings = recording.warnings;
  grade.provenance = recording.provenance;
  for (std::size_t k = 0; k < recording.channels.size(); ++k)
    grade.channels.push_back(grade_channel(recording, k, options));
  return grade;
}

}  // namespace pulsewright
