// Prints the features of every pulse candidate of the development recordings and whether it is a beat, for fit_pulse_confidence.py. Noise without a
// pulse comes along.
//
// A pulse is true when it lies close enough to a beat of the reference. anaesthesia: the marked pulse peaks. bedside, treadmill, wrist: the ECG of the same recording
// (found by the library; wrist: the reference listing) moved by the lag that matches most. At rest 150 ms; in motion 75 ms, because at 150
// beats/min a false pulse lies within 150 ms of some beat by chance.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "noise_recording.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"
#include "rate_cases.hpp"

namespace {

using namespace pulsewright;

constexpr double tolerance_at_rest_s = 0.150, tolerance_in_motion_s = 0.075;
constexpr double longest_lag_s = 0.60;

std::vector<double> times_of(const BeatTrain& train) {
  std::vector<double> times;
  for (const Seconds t : train.times()) times.push_back(t.value());
  return times;
}

double distance(const std::vector<double>& beats, double t) {
  const auto next = std::lower_bound(beats.begin(), beats.end(), t);
  double nearest = 1e9;
  if (next != beats.end()) nearest = *next - t;
  if (next != beats.begin()) nearest = std::min(nearest, t - *(next - 1));
  return nearest;
}

double best_lag(const std::vector<double>& beats, const std::vector<BeatEvidence>& evidence) {
  double best = 0.0;
  std::size_t most = 0;
  for (double lag = 0.0; lag <= longest_lag_s; lag += 0.02) {
    std::size_t matched = 0;
    for (const BeatEvidence& e : evidence)
      matched += e.accepted && distance(beats, e.time.value() - lag) <= 0.05 ? 1 : 0;
    if (matched > most) {
      most = matched;
      best = lag;
    }
  }
  return best;
}

void dump(const std::string& set, const std::string& name, const Recording& recording, const std::vector<double>& beats,
          const std::vector<Span>& left_out, std::vector<std::size_t> channels = {}) {
  FindOptions finding;
  finding.kind = KindChoice::pulse;
  finding.channels = std::move(channels);
  const std::vector<BeatEvidence> evidence = pulse_evidence(choose_signals(recording, finding).signals);
  const bool marked = set == "anaesthesia";
  const bool at_rest = marked || set == "bedside";
  const double lag = marked || beats.empty() ? 0.0 : best_lag(beats, evidence);
  for (const BeatEvidence& e : evidence) {
    if (std::any_of(left_out.begin(), left_out.end(), [&](const Span& s) { return s.contains(e.time); })) continue;
    const bool right = distance(beats, e.time.value() - lag) <= (at_rest ? tolerance_at_rest_s : tolerance_in_motion_s);
    fmt::print("{},{},{:.3f},{:d},{:d}", set, name, e.time.value(), right, e.accepted);
    for (const double f : e.features) fmt::print(",{:.5g}", f);
    fmt::print("\n");
  }
}

std::vector<double> ecg_times(const Recording& recording) {
  FindOptions finding;
  finding.kind = KindChoice::ecg;
  return times_of(find_beats(recording, finding));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: pulsewright_pulse_feature_dump DATA\n";
    return 2;
  }
  const std::filesystem::path data = argv[1];
  try {
    fmt::print("set,name,time_s,right,chosen");
    for (const std::string& name : names_of_pulse_features()) fmt::print(",{}", name);
    fmt::print("\n");
    using accuracy::RateCase;
    using accuracy::RateSet;
    accuracy::for_each_rate_case(data, RateSet::anaesthesia, false, [&](const RateCase& one) {
      const auto folder = data / "anaesthesia_pulse";
      const auto spans = folder / (one.name + "_pulse_artefact_spans.txt");
      dump("anaesthesia", one.name, one.recording,
           times_of(read_beats(folder / (one.name + "_pulse_peaks.txt"), Hertz{300.0}).beats),
           std::filesystem::exists(spans) ? read_spans(spans, Hertz{300.0}) : std::vector<Span>{});
    });
    accuracy::for_each_rate_case(data, RateSet::bedside, false, [&](const RateCase& one) {
      dump("bedside", one.name, one.recording, ecg_times(one.recording), {});
    });
    accuracy::for_each_rate_case(data, RateSet::treadmill, false, [&](const RateCase& one) {
      const std::vector<double> beats = ecg_times(one.recording);
      dump("treadmill", one.name, one.recording, beats, {});
      for (const std::size_t i : {1U, 2U})
        dump("treadmill", fmt::format("{}_{}", one.name, i), one.recording, beats, {}, {i});
    });
    accuracy::for_each_rate_case(data, RateSet::wrist, false, [&](const RateCase& one) {
      const auto listing = data / "exercise_wrist" / (one.name + ".txt");
      dump("wrist", one.name, one.recording, times_of(read_beats(listing, Hertz{256.0}).beats), {});
    });
    for (unsigned seed = 1; seed <= accuracy::noise_recordings; ++seed)
      dump("noise", fmt::format("noise_{}", seed), accuracy::noise_recording(seed), {}, {});
  } catch (const std::exception& error) {
    std::cerr << "pulse_feature_dump: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
