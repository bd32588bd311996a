/// Puts known artefacts into real beat series and counts what cleaning finds, how it names it, and what error is left in SDNN and RMSSD.
///
///   inject_artefacts [FOLDER]      FOLDER: the open recordings (else PULSEWRIGHT_DATA, else ../shared/datasets beside the source)
///
/// Series: R peaks of 25 people from a chest strap, sitting, doing maths, walking, hand-biking, jogging (Howell & Porr, University of
/// Glasgow, CC BY 3.0). Parameters of cleaning were set on people 00-11; people 12-24 were scored after freezing. Series in which a
/// missed or extra beat is found as they stand are faulty references and left out (counted); all other rows are taken as normal, and those flagged
/// as they stand are counted apart.
///
/// What is injected, one class a run, beats at least four apart, with a fixed generator:
///   missed     a beat is removed
///   extra      a detection at 20 to 80 % of an interval
///   early      a beat comes at 55 to 75 % of its interval; half of them with full compensation, half with the rhythm set back, the
///              next interval being 100 to 115 % of the usual one
///   misplaced  a beat is detected 10 to 20 % of its interval too early or too late
#include <algorithm>
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

/// Measures of the series as it stands, nothing judged.
Variability plain(const std::vector<double>& times) {
  Intervals intervals;
  for (std::size_t i = 0; i + 1 < times.size(); ++i) {
    const double ms = 1000.0 * (times[i + 1] - times[i]);
    intervals.intervals.push_back({Seconds{times[i]}, Seconds{times[i + 1]}, ms, Verdict::normal, ms, 0, 1});
  }
  return variability(intervals);
}

struct Score {
  long events = 0, found = 0, named = 0;
  long untouched = 0, false_flags = 0;
  int runs = 0, refused = 0;
  double sdnn_error = 0, rmssd_error = 0, sdnn_bias = 0, rmssd_bias = 0, sdnn_raw = 0, rmssd_raw = 0;
};

void score_run(const std::vector<double>& beats, Verdict kind, double share, std::mt19937& random, Score& score) {
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
  ++score.runs;
  const Variability reference = plain(beats);
  const Variability raw = plain(truth.times);
  VariabilityOptions options;
  const Variability result = variability(cleaned, options);
  if (!result.sdnn_ms || !result.rmssd_ms) {
    ++score.refused;
    return;
  }
  const auto percent = [](double value, double of) { return 100.0 * (value - of) / of; };
  score.sdnn_error += std::abs(percent(*result.sdnn_ms, *reference.sdnn_ms));
  score.rmssd_error += std::abs(percent(*result.rmssd_ms, *reference.rmssd_ms));
  score.sdnn_bias += percent(*result.sdnn_ms, *reference.sdnn_ms);
  score.rmssd_bias += percent(*result.rmssd_ms, *reference.rmssd_ms);
  score.sdnn_raw += std::abs(percent(*raw.sdnn_ms, *reference.sdnn_ms));
  score.rmssd_raw += std::abs(percent(*raw.rmssd_ms, *reference.rmssd_ms));
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

void study(const std::filesystem::path& folder, const char* title, int first, int last,
           const std::vector<const char*>& activities) {
  std::vector<std::vector<double>> recordings;
  long rows = 0, flagged = 0;
  int faulty = 0;
  for (int person = first; person <= last; ++person)
    for (const char* activity : activities) {
      auto beats = read_beats_of(folder, person, activity);
      if (!beats) continue;
      const Intervals as_it_stands = clean(train_at(*beats));
      const auto count = [&](Verdict verdict) {
        return std::count_if(as_it_stands.intervals.begin(), as_it_stands.intervals.end(),
                             [&](const Interval& row) { return row.verdict == verdict; });
      };
      if (count(Verdict::missed_beat) + count(Verdict::extra_beat) + count(Verdict::gap) > 0) {
        ++faulty;
        continue;
      }
      rows += static_cast<long>(as_it_stands.intervals.size());
      flagged += static_cast<long>(as_it_stands.intervals.size()) - count(Verdict::normal);
      recordings.push_back(std::move(*beats));
    }
  std::printf("\n%s: %zu recordings (%d faulty ones left out), %ld intervals; flagged as they stand: %ld (%.3f %%)",
              title, recordings.size(), faulty, rows, flagged,
              100.0 * static_cast<double>(flagged) / static_cast<double>(std::max(rows, 1L)));
  std::printf("\n%-10s %6s %8s %9s %9s %9s   %-31s %-31s %7s\n", "class", "share", "events", "found %", "named %",
              "spec. %", "SDNN error %: left (bias) raw", "RMSSD error %: left (bias) raw", "refused");
  for (const Verdict kind : {Verdict::missed_beat, Verdict::extra_beat, Verdict::early_beat, Verdict::misplaced})
    for (const double share : {0.01, 0.05}) {
      std::mt19937 random(2024);
      Score s;
      for (const auto& beats : recordings)
        for (int round = 0; round < rounds; ++round) score_run(beats, kind, share, random, s);
      const double runs = std::max(1, s.runs - s.refused);
      const auto percent = [](long part, long whole) {
        return whole ? 100.0 * static_cast<double>(part) / static_cast<double>(whole) : 0.0;
      };
      std::printf("%-10s %5.0f%% %8ld %9.2f %9.2f %9.3f   %8.2f (%+6.2f) %8.1f      %8.2f (%+6.2f) %8.1f      %4d/%d\n",
                  kind == Verdict::missed_beat  ? "missed"
                  : kind == Verdict::extra_beat ? "extra"
                  : kind == Verdict::early_beat ? "early"
                                                : "misplaced",
                  100.0 * share, s.events, percent(s.found, s.events), percent(s.named, s.events),
                  100.0 - percent(s.false_flags, s.untouched), s.sdnn_error / runs, s.sdnn_bias / runs,
                  s.sdnn_raw / runs, s.rmssd_error / runs, s.rmssd_bias / runs, s.rmssd_raw / runs, s.refused, s.runs);
    }
}

}  // namespace

int main(int argc, char** argv) {
  const std::filesystem::path folder = data_folder(argc, argv) / "activity_beats";
  if (!std::filesystem::is_directory(folder)) {
    std::printf("skipped: no folder activity_beats among the open recordings (set PULSEWRIGHT_DATA)\n");
    return 0;
  }
  const std::vector<const char*> rest{"sitting", "maths"};
  const std::vector<const char*> exercise{"walking", "hand_bike", "jogging"};
  study(folder, "Development people 00-11, at rest", 0, 11, rest);
  study(folder, "Development people 00-11, in exercise", 0, 11, exercise);
  if (std::getenv("PULSEWRIGHT_DEVELOPMENT_ONLY")) return 0;
  study(folder, "Test people 12-24, at rest", 12, 24, rest);
  study(folder, "Test people 12-24, in exercise", 12, 24, exercise);
}
