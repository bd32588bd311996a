/// Puts known artefacts into real beat series and counts what cleaning finds, how it names it, and what error is left in SDNN, RMSSD, LF, HF and alpha1.
///
///   inject_artefacts [FOLDER]      FOLDER: the open recordings (else PULSEWRIGHT_DATA, else ../shared/datasets beside the source)
///
/// Series: R peaks of 25 people from a chest strap, sitting, doing maths, walking, hand-biking, jogging (Howell & Porr, University of
/// Glasgow, CC BY 3.0). Parameters of cleaning were set on people 00-11; people 12-24 were scored after freezing. Also normal stretches
/// of arrhythmia records, five minutes each, by their annotations (MIT-BIH Arrhythmia Database). Series in which something is flagged as they stand are not clean: they are
/// counted, with the share of their intervals that was flagged, and left out of the rest. Errors are means of absolute errors over runs, in per cent; bias is the
/// mean of signed ones, raw what no cleaning would leave.
///
/// What is injected, one class a run, beats at least four apart, with a fixed generator:
///   missed     a beat is removed
///   extra      a detection at 20 to 80 % of an interval
///   early      a beat comes at 55 to 75 % of its interval; half of them with full compensation, half with the rhythm set back, the
///              next interval being 100 to 115 % of the usual one
///   misplaced  a beat is detected 10 to 20 % of its interval too early or too late
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/variability.hpp"

namespace {

using namespace pulsewright;
using Verdict = IntervalVerdict;

constexpr double clock_hz = 250.0;
constexpr int rounds = 20;  // runs of each recording, class and rate, with different artefacts
constexpr int spacing = 4;  // beats between artefacts, so that each has one true verdict

struct Truth {
  std::vector<double> times;                     // of the beats, artefacts included
  std::vector<std::vector<std::size_t>> events;  // rows of each artefact
  std::vector<Verdict> verdict;                  // true verdict of each row
};

double uniform(std::mt19937& random, double low, double high) {
  return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
}

/// Which beats to touch: about `share` of them, never near the ends.
std::vector<std::size_t> places(std::size_t beats, double share, std::mt19937& random) {
  std::vector<std::size_t> chosen;
  const auto wanted = static_cast<std::size_t>(std::max(1.0, std::round(share * static_cast<double>(beats))));
  for (int attempt = 0; attempt < 10000 && chosen.size() < wanted; ++attempt) {
    const std::size_t at = 3 + random() % (beats - 6);
    const bool free = std::all_of(chosen.begin(), chosen.end(), [&](std::size_t other) {
      return std::abs(static_cast<long>(other) - static_cast<long>(at)) >= spacing;
    });
    if (free) chosen.push_back(at);
  }
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

Truth inject(const std::vector<double>& beats, Verdict kind, double share, std::mt19937& random) {
  Truth truth;
  const std::vector<std::size_t> chosen = places(beats.size(), share, random);
  std::size_t next = 0;
  double shift = 0.0;  // of everything after an early beat that set the rhythm back
  std::vector<Verdict>& v = truth.verdict;
  const auto put = [&](double time, Verdict verdict) {
    if (!truth.times.empty()) v.push_back(verdict);
    truth.times.push_back(time);
  };
  for (std::size_t b = 0; b < beats.size(); ++b) {
    if (next == chosen.size() || chosen[next] != b) {
      put(beats[b] + shift, Verdict::normal);
      continue;
    }
    ++next;
    const double interval = beats[b] - beats[b - 1];
    const double following = beats[b + 1] - beats[b];
    const std::size_t row = v.size();
    switch (kind) {
      case Verdict::missed_beat:
        ++b;
        put(beats[b] + shift, kind);
        truth.events.push_back({row});
        break;
      case Verdict::extra_beat:
        put(beats[b] + shift - interval * uniform(random, 0.2, 0.8), kind);
        put(beats[b] + shift, kind);
        truth.events.push_back({row, row + 1});
        break;
      case Verdict::early_beat: {
        const double advance = interval * (1.0 - uniform(random, 0.55, 0.75));
        put(beats[b] + shift - advance, Verdict::early_beat);
        if (random() % 2 == 0) shift -= advance - following * uniform(random, 0.0, 0.15);
        ++b;
        put(beats[b] + shift, Verdict::compensatory_pause);
        truth.events.push_back({row});
        break;
      }
      default:
        put(beats[b] + shift + (random() % 2 == 0 ? 1.0 : -1.0) * interval * uniform(random, 0.10, 0.20), kind);
        ++b;
        put(beats[b] + shift, kind);
        truth.events.push_back({row, row + 1});
    }
  }
  return truth;
}

BeatTrain train_at(const std::vector<double>& times) {
  BeatTrain train;
  for (const double t : times) {
    Beat beat;
    beat.time = Seconds{t};
    beat.sample = SampleIndex{std::llround(t * clock_hz)};
    train.candidates.push_back(beat);
  }
  train.duration = Seconds{times.back() + 1.0};
  return train;
}

/// Limits moved out of the way: the study asks what is left, not what is refused.
VariabilityOptions lenient() {
  VariabilityOptions options;
  options.most_flagged_percent = options.most_flagged_of_course_percent = 40.0;
  options.entropy_scales = 1;
  return options;
}

/// Measures of the series as it stands, nothing judged.
Variability plain(const std::vector<double>& times) {
  Intervals intervals;
  for (std::size_t i = 0; i + 1 < times.size(); ++i) {
    const double ms = 1000.0 * (times[i + 1] - times[i]);
    intervals.intervals.push_back({Seconds{times[i]}, Seconds{times[i + 1]}, ms, Verdict::normal, ms, 0, 1});
  }
  return variability(intervals, lenient());
}

constexpr std::size_t measures = 5;
constexpr const char* measure_names[measures] = {"SDNN", "RMSSD", "LF", "HF", "alpha1"};

std::array<std::optional<double>, measures> measured(const Variability& v) {
  return {v.sdnn_ms, v.rmssd_ms, v.power.lf_power_ms2, v.power.hf_power_ms2, v.alpha1};
}

struct Score {
  long events = 0, found = 0, named = 0;
  long untouched = 0, false_flags = 0;
  std::array<double, measures> error{}, bias{}, raw{};
  std::array<int, measures> runs{};
};

void score_run(const std::vector<double>& beats, const Variability& reference, Verdict kind, double share,
               std::mt19937& random, Score& score) {
  const Truth truth = inject(beats, kind, share, random);
  const Intervals cleaned = clean(train_at(truth.times));
  for (const auto& rows : truth.events) {
    bool found = true, named = true;
    for (const std::size_t row : rows) {
      found = found && cleaned.intervals[row].verdict != Verdict::normal;
      named = named && cleaned.intervals[row].verdict == truth.verdict[row];
    }
    ++score.events;
    score.found += found;
    score.named += named;
  }
  for (std::size_t row = 0; row < truth.verdict.size(); ++row) {
    if (truth.verdict[row] != Verdict::normal) continue;
    ++score.untouched;
    score.false_flags += cleaned.intervals[row].verdict != Verdict::normal;
  }
  const auto of = measured(reference), raw = measured(plain(truth.times)),
             left = measured(variability(cleaned, lenient()));
  for (std::size_t m = 0; m < measures; ++m) {
    if (!of[m] || !raw[m] || !left[m] || !(*of[m] > 0.0)) continue;
    const auto percent = [&](double value) { return 100.0 * (value - *of[m]) / *of[m]; };
    ++score.runs[m];
    score.error[m] += std::abs(percent(*left[m]));
    score.bias[m] += percent(*left[m]);
    score.raw[m] += std::abs(percent(*raw[m]));
  }
}

std::optional<std::vector<double>> read_beats_of(const std::filesystem::path& folder, int person,
                                                 const char* activity) {
  char name[96];
  std::snprintf(name, sizeof name, "subject_%02d__%s__annotation_cs.tsv", person, activity);
  std::ifstream file(folder / name);
  if (!file) return std::nullopt;
  std::vector<double> times;
  for (double sample = 0; file >> sample;) times.push_back(sample / clock_hz);
  if (times.size() < 30) return std::nullopt;
  return times;
}

std::filesystem::path data_folder(int argc, char** argv) {
  if (argc > 1) return argv[1];
  if (const char* named = std::getenv("PULSEWRIGHT_DATA")) return named;
  return std::filesystem::path{PULSEWRIGHT_SOURCE_DIR} / ".." / "shared" / "datasets";
}

/// Normal stretches of an arrhythmia record by its annotations: runs of normal beats, five minutes at most, three at least.
std::vector<std::vector<double>> normal_stretches(const std::filesystem::path& folder, const std::string& record) {
  constexpr double longest_s = 300.0, shortest_s = 180.0;
  std::vector<std::vector<double>> stretches;
  std::vector<double> run;
  const auto close = [&] {
    if (!run.empty() && run.back() - run.front() >= shortest_s) stretches.push_back(run);
    run.clear();
  };
  for (const Beat& beat : read_beats(folder / (record + ".atr")).beats.accepted()) {
    if (beat.label != BeatLabel::normal) {
      close();
      continue;
    }
    run.push_back(beat.time.value());
    if (run.back() - run.front() >= longest_s) close();
  }
  close();
  return stretches;
}

void study(const char* title, std::vector<std::vector<double>> recordings, int runs) {
  long rows = 0, flagged = 0;
  std::vector<Variability> references;
  const std::size_t all = recordings.size();
  std::erase_if(recordings, [&](const std::vector<double>& beats) {
    long here = 0;
    for (const Interval& row : clean(train_at(beats)).intervals) here += row.verdict != Verdict::normal;
    rows += static_cast<long>(beats.size()) - 1;
    flagged += here;
    return here > 0;
  });
  for (const auto& beats : recordings) references.push_back(plain(beats));
  std::printf(
      "\n%s: %zu series, %ld intervals; flagged as they stand: %ld (%.3f %%), in %zu series that are left out\n", title,
      all, rows, flagged, 100.0 * static_cast<double>(flagged) / static_cast<double>(std::max(rows, 1L)),
      all - recordings.size());
  std::printf("%-10s %5s %8s %8s %8s %8s", "class", "share", "events", "found %", "named %", "spec. %");
  for (const char* name : measure_names) std::printf("   %6s: left (bias) raw", name);
  std::printf("   [error in %%]\n");
  for (const Verdict kind : {Verdict::missed_beat, Verdict::extra_beat, Verdict::early_beat, Verdict::misplaced})
    for (const double share : {0.005, 0.01, 0.02, 0.05, 0.10}) {
      std::mt19937 random(2024);
      Score s;
      for (std::size_t k = 0; k < recordings.size(); ++k)
        for (int round = 0; round < runs; ++round) score_run(recordings[k], references[k], kind, share, random, s);
      const auto percent = [](long part, long whole) {
        return whole ? 100.0 * static_cast<double>(part) / static_cast<double>(whole) : 0.0;
      };
      std::printf("%-10s %4.1f%% %8ld %8.2f %8.2f %8.3f",
                  kind == Verdict::missed_beat  ? "missed"
                  : kind == Verdict::extra_beat ? "extra"
                  : kind == Verdict::early_beat ? "early"
                                                : "misplaced",
                  100.0 * share, s.events, percent(s.found, s.events), percent(s.named, s.events),
                  100.0 - percent(s.false_flags, s.untouched));
      for (std::size_t m = 0; m < measures; ++m) {
        const double n = std::max(1, s.runs[m]);
        std::printf("  %7.2f (%+6.2f) %7.1f", s.error[m] / n, s.bias[m] / n, s.raw[m] / n);
      }
      std::printf("\n");
    }
}

std::vector<std::vector<double>> people(const std::filesystem::path& folder, int first, int last,
                                        const std::vector<const char*>& activities) {
  std::vector<std::vector<double>> recordings;
  for (int person = first; person <= last; ++person)
    for (const char* activity : activities)
      if (auto beats = read_beats_of(folder, person, activity)) recordings.push_back(std::move(*beats));
  return recordings;
}

/// Records of the two halves of de Chazal et al. 2004 with mostly normal beats.
std::vector<std::vector<double>> stretches_of(const std::filesystem::path& folder,
                                              const std::vector<const char*>& records) {
  std::vector<std::vector<double>> recordings;
  for (const char* record : records)
    for (auto& stretch : normal_stretches(folder, record)) recordings.push_back(std::move(stretch));
  return recordings;
}

}  // namespace

int main(int argc, char** argv) {
  const std::filesystem::path data = data_folder(argc, argv), folder = data / "activity_beats";
  if (!std::filesystem::is_directory(folder)) {
    std::printf("skipped: no folder activity_beats among the open recordings (set PULSEWRIGHT_DATA)\n");
    return 0;
  }
  const std::vector<const char*> rest{"sitting", "maths"};
  const std::vector<const char*> exercise{"walking", "hand_bike", "jogging"};
  const bool arrhythmia = std::filesystem::is_directory(data / "arrhythmia");
  study("Development people 00-11, sitting and maths", people(folder, 0, 11, rest), rounds);
  study("Development people 00-11, in exercise", people(folder, 0, 11, exercise), rounds);
  if (arrhythmia)
    study("Normal stretches of development records 101 106 112 115 122 205 220 230",
          stretches_of(data / "arrhythmia", {"101", "106", "112", "115", "122", "205", "220", "230"}), rounds / 4);
  if (std::getenv("PULSEWRIGHT_DEVELOPMENT_ONLY")) return 0;
  study("Test people 12-24, sitting and maths", people(folder, 12, 24, rest), rounds);
  study("Test people 12-24, in exercise", people(folder, 12, 24, exercise), rounds);
  if (arrhythmia)
    study("Normal stretches of test records 100 103 105 113 117 121 123 234",
          stretches_of(data / "arrhythmia", {"100", "103", "105", "113", "117", "121", "123", "234"}), rounds / 4);
}
