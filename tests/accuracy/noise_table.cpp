// ECG under noise: the noise stress records over their noisy stretches, and noise mixed into clean test records of the MIT-BIH Arrhythmia Database.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <iostream>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "agreement_rows.hpp"
#include "noise_mixing.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

constexpr std::array<const char*, 3> stress_records{"118e24", "118e12", "118e00"};
const std::set<std::string> clean_records{"100", "103", "113", "117", "123"};
constexpr std::array<double, 6> snr_db{24, 18, 12, 6, 0, -6};

// Where in the noise record each mixture begins.
constexpr unsigned seed = 1;

struct Noise {
  std::string name;
  std::vector<float> samples;
};

Recording read(const std::filesystem::path& path) {
  ReadOptions reading;
  reading.hash = false;
  return read_recording(path, reading);
}

BeatAgreement score(const Recording& recording, const BeatFile& reference, const Request& request,
                    std::vector<Span> exclude) {
  FindOptions finding;
  finding.kind = KindChoice::ecg;
  finding.channels = {0};
  finding.streaming = request.streaming;
  MatchOptions matching;
  matching.tolerance = Seconds{request.tolerance_s};
  matching.exclude = std::move(exclude);
  return match_beats(reference.beats, find_beats(recording, finding), matching);
}

// Everything but the noisy stretches.
std::vector<Span> quiet_stretches(Seconds duration) {
  std::vector<Span> quiet{{Seconds{0}, Seconds{first_noise_s}}};
  for (double t = first_noise_s + turn_s; t < duration.value(); t += 2 * turn_s)
    quiet.push_back({Seconds{t}, Seconds{std::min(t + turn_s, duration.value())}});
  return quiet;
}

}  // namespace

void noise_table(const Request& request) {
  print_header();
  for (const char* name : stress_records) {
    const std::filesystem::path path = request.data / "noise_stress" / name;
    const Recording recording = read(path);
    BeatAgreement agreement =
        score(recording, read_beats(path.string() + ".atr"), request, quiet_stretches(recording.duration));
    agreement.name = name;
    print_row(agreement);
  }
  std::cout << "\nRule: first signal of the noise, mean taken off, added to all of the first ECG signal; SNR = 10 "
               "log10(S / N), S a sine's power at the median\n"
               "peak-to-peak height of the QRS (50 ms to either side of the marks), N the variance of the whole noise; "
               "noise begins at a random sample, seed "
            << seed << ".\n\n";
  print_header();
  std::vector<Noise> noises{{"bw", noise_of(request.data, "bw")}, {"ma", noise_of(request.data, "ma")}};
  if (!request.test_records) noises.push_back({"em", electrode_motion(request.data)});
  for (const auto& [name, noise] : noises) {
    for (const double snr : snr_db) {
      std::mt19937 random{seed};  // the same stretches at every level
      std::vector<BeatAgreement> records;
      for (const std::string& record : request.test_records ? clean_records : arrhythmia_development()) {
        const std::filesystem::path path = request.data / "arrhythmia" / record;
        Recording recording = read(path);
        const BeatFile reference = read_beats(path.string() + ".atr");
        mix(recording, noise, random() % noise.size(), qrs_power(recording.channels[0], reference.beats), snr);
        records.push_back(score(recording, reference, request, reference.flutter));
        records.back().name = fmt::format("{} {} {:g} dB", record, name, snr);
        if (!request.summary) print_row(records.back());
      }
      const BeatAgreement all = pool(records, fmt::format("{} at {:g} dB", name, snr));
      print_row(all);
      std::cout << fmt::format("    F1 {:.2f} %, declared unreadable {:.1f} % of the time\n",
                               all.f1_percent().value_or(0.0), 100.0 * all.unreadable.value() / all.scored.value());
    }
  }
}

}  // namespace accuracy
