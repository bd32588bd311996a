// Heart rate in windows of 8 s every 2 s against the reference, recording by recording.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/pipeline.hpp"
#include "rate_cases.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

/// Errors of one recording, or of several: then means over recordings of what each has.
struct RateScore {
  double mae = 0, answered = 0, near = 0, sure = 0, covered = 0, covered_windows = 0;
  std::size_t windows = 0, recordings = 0;
  std::size_t with_answers = 0;  ///< recordings that have an error at all
};

RateSet set_of(const std::string& word) {
  if (word == "treadmill") return RateSet::treadmill;
  if (word == "wrist") return RateSet::wrist;
  if (word == "chest-ecg") return RateSet::chest_ecg;
  if (word == "arrhythmia") return RateSet::arrhythmia;
  if (word == "clip") return RateSet::clip;
  if (word == "bedside-ecg") return RateSet::bedside_ecg;
  if (word == "bedside-beats") return RateSet::bedside_beats;
  return word == "bedside" ? RateSet::bedside : RateSet::anaesthesia;
}

RateSeries rates_of(const RateCase& one, const RateRequest& request) {
  const Recording& recording = one.recording;
  AnalyzeOptions options;
  options.find.kind = one.kind;
  options.find.channels = one.channels;
  options.find.streaming = request.streaming;
  if (!request.motion) options.motion.emplace();
  if (request.every_window) options.rate.least_confidence = 0.0;
  const ChosenSignals chosen = choose_signals(recording, options.find);
  const BeatTrain beats = find_and_label_beats(recording, chosen, options.find);
  const std::optional<RateTrack> track = track_beside(chosen, recording, options);
  RateSeries rates = rate_over_windows(beats, clean(beats), options.rate);
  return track ? join_rates(std::move(rates), *track) : rates;
}

RateScore score(const RateCase& one, const RateSeries& rates) {
  RateScore result;
  result.recordings = 1;
  result.with_answers = 1;
  double errors = 0, near = 0, sure = 0, covered = 0, answered = 0;
  for (std::size_t k = 0; k < one.reference.size(); ++k) {
    if (!one.reference[k]) continue;
    ++result.windows;
    if (k >= rates.windows.size() || !rates.windows[k].rate) continue;
    const RateWindow& window = rates.windows[k];
    const double error = std::abs(window.rate->value() - *one.reference[k]);
    answered += 1;
    errors += error;
    near += error <= 5.0 ? 1 : 0;
    sure += window.confidence.value_or(0.0);
    covered += window.low->value() <= *one.reference[k] && *one.reference[k] <= window.high->value() ? 1 : 0;
  }
  result.mae = answered > 0 ? errors / answered : std::nan("");
  result.near = answered > 0 ? near / answered : std::nan("");
  result.sure = sure / std::max(answered, 1.0);
  result.answered = answered / static_cast<double>(result.windows);
  result.covered = covered;
  result.covered_windows = answered;
  return result;
}

void add(RateScore& sum, const RateScore& one) {
  sum.recordings += 1;
  sum.windows += one.windows;
  sum.answered += one.answered;
  sum.covered += one.covered;
  sum.covered_windows += one.covered_windows;
  if (std::isnan(one.mae)) return;
  sum.with_answers += 1;
  sum.mae += one.mae;
  sum.near += one.near;
  sum.sure += one.sure;
}

void print(const std::string& name, const RateScore& score) {
  const double answering = static_cast<double>(score.with_answers);
  fmt::print("| {:<24} | {:>7} | {:>10.1f} | {:>8.2f} | {:>10.1f} | {:>12.1f} | {:>9.1f} |\n", name, score.windows,
             100.0 * score.answered / static_cast<double>(score.recordings), score.mae / answering,
             100.0 * score.near / answering, 100.0 * score.sure / answering,
             100.0 * score.covered / std::max(score.covered_windows, 1.0));
}

/// An answered window: how sure, and how far off.
struct Answer {
  double confidence = 0, error = 0;
};

void collect(const RateCase& one, const RateSeries& rates, std::vector<Answer>& answers) {
  for (std::size_t k = 0; k < std::min(one.reference.size(), rates.windows.size()); ++k) {
    const RateWindow& window = rates.windows[k];
    if (one.reference[k] && window.rate)
      answers.push_back({*window.confidence, std::abs(window.rate->value() - *one.reference[k])});
  }
}

/// Error of the surest share of all windows: a confidence that sorts errors makes it fall.
void print_risk(const std::string& word, std::vector<Answer> answers) {
  std::stable_sort(answers.begin(), answers.end(),
                   [](const Answer& a, const Answer& b) { return a.confidence > b.confidence; });
  for (const int percent : {25, 50, 75, 90, 100}) {
    const std::size_t kept = answers.size() * static_cast<std::size_t>(percent) / 100;
    if (kept == 0) continue;
    double sum = 0, near = 0;
    for (std::size_t i = 0; i < kept; ++i) {
      sum += answers[i].error;
      near += answers[i].error <= 5.0 ? 1 : 0;
    }
    const double count = static_cast<double>(kept);
    fmt::print("| {:<12} | {:>8} | {:>7} | {:>16.3f} | {:>8.2f} | {:>10.1f} |\n", word, percent, kept,
               answers[kept - 1].confidence, sum / count, 100.0 * near / count);
  }
}

}  // namespace

void risk_table(const Request& request, const RateRequest& rate, const std::string& set) {
  std::vector<Answer> development, test;
  for_each_rate_case(request.data, set_of(set), request.test_records, [&](const RateCase& whole) {
    const RateCase one = begun_late(whole, Seconds{rate.begin_s});
    collect(one, rates_of(one, rate), one.development ? development : test);
  });
  fmt::print("| recordings   | surest % | windows | least confidence |      MAE | within 5 % |\n");
  fmt::print("|--------------|----------|---------|------------------|----------|------------|\n");
  print_risk("development", std::move(development));
  print_risk("test", std::move(test));
}

void rate_table(const Request& request, const RateRequest& rate, const std::string& set) {
  fmt::print(
      "| recording                | windows | answered % |      MAE | within 5 % | confidence % | covered % |\n");
  fmt::print(
      "|--------------------------|---------|------------|----------|------------|--------------|-----------|\n");
  RateScore development, test, all;
  for_each_rate_case(request.data, set_of(set), request.test_records, [&](const RateCase& whole) {
    const RateCase one = begun_late(whole, Seconds{rate.begin_s});
    const RateScore result = score(one, rates_of(one, rate));
    if (!request.summary) print(one.name, result);
    add(one.development ? development : test, result);
    add(all, result);
  });
  const auto mean = [](const std::string& word, const RateScore& sum) {
    if (sum.recordings > 0) print(fmt::format("{} {}", sum.recordings, word), sum);
  };
  mean("development", development);
  mean("test", test);
  if (test.recordings > 0) mean("all", all);
}

}  // namespace accuracy
