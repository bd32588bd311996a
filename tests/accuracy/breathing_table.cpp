// Breathing rate from pulse and from ECG: against the carbon dioxide of the anaesthesia recordings (CapnoBase respiratory-rate benchmark, Karlen et al. 2013, IEEE TBME
// 60:1946), and against the monitor's RESP of the bedside recordings (Pimentel et al. 2017, IEEE TBME 64:1914).
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <vector>

#include "pulsewright/breathing.hpp"
#include "pulsewright/read.hpp"
#include "rate_cases.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

/// Starts of breathing out: carbon dioxide rises over the middle of its range (5th to 95th percentile), having been below a quarter of it.
std::vector<double> breaths_in(const Channel& co2) {
  std::vector<float> sorted = co2.samples;
  std::sort(sorted.begin(), sorted.end());
  const auto at = [&](double share) {
    return static_cast<double>(sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))]);
  };
  const double low = at(0.05), high = at(0.95);
  std::vector<double> times;
  bool out = false;
  for (std::size_t i = 0; i < co2.samples.size(); ++i) {
    const double v = co2.samples[i];
    if (!out && v > low + 0.5 * (high - low)) {
      out = true;
      times.push_back(static_cast<double>(i) / co2.rate.value());
    } else if (out && v < low + 0.25 * (high - low)) {
      out = false;
    }
  }
  return times;
}

/// Breaths/min from the first to the last breath inside a window; nothing with fewer than three.
std::optional<double> rate_in(const std::vector<double>& breaths, const Span& window) {
  const auto from = std::lower_bound(breaths.begin(), breaths.end(), window.start.value());
  const auto to = std::lower_bound(from, breaths.end(), window.end.value());
  if (to - from < 3) return std::nullopt;
  return 60.0 * static_cast<double>(to - from - 1) / (*(to - 1) - *from);
}

/// The monitor's RESP, once a second.
std::vector<double> monitor_breaths(const std::filesystem::path& numerics) {
  std::ifstream in{numerics};
  std::string line;
  std::getline(in, line);
  std::size_t column = 0;
  for (std::size_t at = 0; (at = line.find(',', at)) != line.npos && line.find("RESP") > at; ++at) ++column;
  std::vector<double> rates;
  while (std::getline(in, line)) {
    std::size_t at = 0;
    for (std::size_t k = 0; k < column; ++k) at = line.find(',', at) + 1;
    double value = std::nan("");
    std::from_chars(line.data() + at, line.data() + line.size(), value);
    rates.push_back(value);
  }
  return rates;
}

std::optional<double> mean_in(const std::vector<double>& per_second, const Span& window) {
  const auto from = static_cast<std::size_t>(window.start.value()), to = static_cast<std::size_t>(window.end.value());
  if (to > per_second.size() || to <= from) return std::nullopt;
  double sum = 0;
  for (std::size_t t = from; t < to; ++t) sum += per_second[t];
  return std::isnan(sum) ? std::nullopt : std::optional{sum / static_cast<double>(to - from)};
}

struct Score {
  int records = 0;
  std::size_t windows = 0, answered = 0, covered = 0;
  double error = 0, within = 0;  ///< sums of the records' means, breaths/min and per cent

  void print(const char* name) const {
    const double n = std::max(records, 1);
    fmt::print("| {} {} | {} | {:.1f} | {:.2f} | {:.1f} | {:.1f} |\n", records, name, windows,
               100.0 * static_cast<double>(answered) / static_cast<double>(std::max<std::size_t>(windows, 1)),
               error / n, within / n,
               100.0 * static_cast<double>(covered) / static_cast<double>(std::max<std::size_t>(answered, 1)));
  }
};

BreathingSeries breathing_of(const Recording& recording, KindChoice kind) {
  FindOptions finding;
  finding.kind = kind;
  const ChosenSignals chosen = choose_signals(recording, finding);
  std::vector<const Channel*> channels;
  for (const std::size_t c : chosen.channels) channels.push_back(&recording.channels[c]);
  return breathing_rate(find_beats(recording, chosen, finding), channels);
}

}  // namespace

void breathing_table(const Request& request, const std::string& set) {
  const bool bedside = set == "bedside";
  fmt::print(
      "| from | records | windows | answered % | mean absolute error, breaths/min | within 2 % | covered % |\n"
      "| --- | --- | ---: | ---: | ---: | ---: | ---: |\n");
  for (const KindChoice kind : {KindChoice::pulse, KindChoice::ecg}) {
    Score development, test;
    for_each_rate_case(
        request.data, bedside ? RateSet::bedside : RateSet::anaesthesia, request.test_records,
        [&](const RateCase& one) {
          const auto co2 = std::find_if(one.recording.channels.begin(), one.recording.channels.end(),
                                        [](const Channel& c) { return c.name.starts_with("co2"); });
          const std::vector<double> breaths =
              bedside ? monitor_breaths(request.data / "bedside" / (one.name + "_Numerics.csv")) : breaths_in(*co2);
          Score& score = one.development ? development : test;
          double error = 0, within = 0;
          std::size_t answered = 0, windows = 0, covered = 0;
          for (const BreathingWindow& w : breathing_of(one.recording, kind).windows) {
            const auto truth = bedside ? mean_in(breaths, w.window) : rate_in(breaths, w.window);
            if (!truth) continue;
            ++windows;
            if (!w.rate) continue;
            ++answered;
            const double e = std::abs(60 * w.rate->value() - *truth);
            error += e;
            within += e <= 2;
            covered += 60 * w.low->value() <= *truth && *truth <= 60 * w.high->value();
          }
          const double n = static_cast<double>(std::max<std::size_t>(answered, 1));
          if (!request.summary && (one.development || !request.list_errors))
            fmt::print("| {} | {} | {} | {:.1f} | {:.2f} | {:.1f} | {:.1f} |\n",
                       kind == KindChoice::ecg ? "ECG" : "pulse", one.name, windows,
                       100.0 * static_cast<double>(answered) / static_cast<double>(std::max<std::size_t>(windows, 1)),
                       error / n, 100 * within / n, 100.0 * static_cast<double>(covered) / n);
          score.windows += windows;
          score.answered += answered;
          score.covered += covered;
          if (answered == 0) return;
          ++score.records;
          score.error += error / n;
          score.within += 100 * within / n;
        });
    const char* from = kind == KindChoice::ecg ? "| ECG " : "| pulse ";
    fmt::print("{}", from);
    development.print("development");
    if (!request.test_records) continue;
    fmt::print("{}", from);
    test.print("test");
  }
}

}  // namespace accuracy
