// Labels by shape against the annotated kinds of the MIT-BIH Arrhythmia Database, and the verdicts that follow from them. First signal, found beats matched to annotated
// ones within 150 ms; paced records and flutter left out. V: ventricular annotations against the label ventricular; A: supraventricular against
// supraventricular. Se is over all annotated beats of the kind, +P over all found beats so labelled.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <vector>

#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/read.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

struct Counts {
  long right = 0, annotated = 0, labelled = 0;
  void operator+=(const Counts& other) {
    right += other.right;
    annotated += other.annotated;
    labelled += other.labelled;
  }
};

struct Row {
  Counts ventricular, supraventricular, flagged;  ///< flagged: verdict early beat against either annotation
  void operator+=(const Row& other) {
    ventricular += other.ventricular;
    supraventricular += other.supraventricular;
    flagged += other.flagged;
  }
};

bool in_any(const std::vector<Span>& spans, Seconds time) {
  return std::any_of(spans.begin(), spans.end(), [&](const Span& span) { return span.contains(time); });
}

/// The annotated beat closest to `time` within the window.
const Beat* closest(const std::vector<Beat>& beats, Seconds time) {
  const auto after =
      std::lower_bound(beats.begin(), beats.end(), time, [](const Beat& b, Seconds t) { return b.time < t; });
  const Beat* best = nullptr;
  for (const auto at : {after, after == beats.begin() ? after : after - 1}) {
    if (at == beats.end()) continue;
    const double distance = std::abs((at->time - time).value());
    if (distance <= 0.150 && (best == nullptr || distance < std::abs((best->time - time).value()))) best = &*at;
  }
  return best;
}

Row row_of(const Recording& recording, const BeatFile& reference) {
  FindOptions finding;
  finding.kind = KindChoice::ecg;
  finding.channels = {0};
  const ChosenSignals chosen = choose_signals(recording, finding);
  const BeatTrain found = label_by_shape(find_beats(recording, chosen, finding), chosen.signals);
  const std::vector<Beat> annotated = reference.beats.accepted();
  std::map<const Beat*, BeatLabel> kind;
  Row row;
  for (const Beat& beat : annotated) {
    if (in_any(reference.flutter, beat.time)) continue;
    row.ventricular.annotated += beat.label == BeatLabel::ventricular;
    row.supraventricular.annotated += beat.label == BeatLabel::supraventricular;
  }
  row.flagged.annotated = row.ventricular.annotated + row.supraventricular.annotated;
  std::map<double, IntervalVerdict> verdict;  // of the interval that ends at a time
  for (const Interval& interval : clean(found).intervals) verdict[interval.end.value()] = interval.verdict;
  std::set<const Beat*> taken;
  for (const Beat& beat : found.accepted()) {
    if (in_any(reference.flutter, beat.time)) continue;
    const Beat* true_beat = closest(annotated, beat.time);
    const bool matched = true_beat != nullptr && taken.insert(true_beat).second;
    const BeatLabel truth = matched ? true_beat->label : BeatLabel::unlabelled;
    const auto count = [&](Counts& counts, bool labelled, bool is_of_the_kind) {
      counts.labelled += labelled;
      counts.right += labelled && is_of_the_kind;
    };
    count(row.ventricular, beat.label == BeatLabel::ventricular, truth == BeatLabel::ventricular);
    count(row.supraventricular, beat.label == BeatLabel::supraventricular, truth == BeatLabel::supraventricular);
    const auto found_verdict = verdict.find(beat.time.value());
    count(row.flagged, found_verdict != verdict.end() && found_verdict->second == IntervalVerdict::early_beat,
          truth == BeatLabel::ventricular || truth == BeatLabel::supraventricular);
  }
  return row;
}

void print(const std::string& name, const Row& row) {
  const auto share = [](long part, long whole) {
    return whole ? fmt::format("{:.2f}", 100.0 * static_cast<double>(part) / static_cast<double>(whole))
                 : std::string("-");
  };
  const auto cells = [&](const Counts& c) {
    return fmt::format("{:>6} {:>7} {:>7}", c.annotated, share(c.right, c.annotated), share(c.right, c.labelled));
  };
  fmt::print("{:16} {}   {}   {}\n", name, cells(row.ventricular), cells(row.supraventricular), cells(row.flagged));
}

}  // namespace

void label_table(const Request& request) {
  static const std::set<std::string> paced{"102", "104", "107", "217"};
  const std::filesystem::path folder = request.data / "arrhythmia";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".hea") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  fmt::print("{:16} {:22}   {:22}   {:22}\n", "", "ventricular", "supraventricular", "verdict early beat");
  fmt::print("{:16} {:>6} {:>7} {:>7}   {:>6} {:>7} {:>7}   {:>6} {:>7} {:>7}\n", "record", "beats", "Se %", "+P %",
             "beats", "Se %", "+P %", "beats", "Se %", "+P %");
  Row development, test;
  for (const std::string& name : names) {
    const bool is_development = arrhythmia_development().contains(name);
    if (paced.contains(name) || (!is_development && !request.test_records)) continue;
    ReadOptions reading;
    reading.hash = false;
    const Row row = row_of(read_recording(folder / name, reading), read_beats(folder / (name + ".atr")));
    if (!request.summary && is_development) print(name, row);  // single test records stay closed
    (is_development ? development : test) += row;
  }
  print("22 development", development);
  if (request.test_records) print("22 test", test);
}

}  // namespace accuracy
