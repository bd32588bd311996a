#include "rate_cases.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>

#include "pulsewright/agreement.hpp"
#include "pulsewright/rate_track.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/simulate.hpp"
#include "tables.hpp"

namespace accuracy {

using namespace pulsewright;

namespace {

constexpr double window_s = track_window.value();
constexpr double step_s = track_step.value();
constexpr double monitor_lag_s = 4.0;
constexpr double shortest_share = 0.45, longest_share = 2.2;

std::vector<std::vector<double>> rows_of(const std::filesystem::path& path) {
  std::ifstream in{path};
  if (!in) throw std::runtime_error(path.string() + ": cannot be opened");
  std::vector<std::vector<double>> rows;
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::vector<double> row;
    std::istringstream cells{line};
    for (std::string cell; std::getline(cells, cell, ',');) {
      double value = std::nan("");
      const auto from = std::min(cell.find_first_not_of(' '), cell.size());
      std::from_chars(cell.data() + from, cell.data() + cell.size(), value);
      row.push_back(value);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

Recording load(const std::filesystem::path& path, std::optional<Hertz> rate = std::nullopt) {
  ReadOptions reading;
  reading.hash = false;
  reading.rate = rate;
  return read_recording(path, reading);
}

std::size_t windows_in(double seconds) {
  return seconds < window_s ? 0 : static_cast<std::size_t>((seconds - window_s) / step_s) + 1;
}

std::optional<double> rate_of_beats(const std::vector<Beat>& beats, double start) {
  std::vector<double> times, steps;
  for (const Beat& beat : beats) {
    if (beat.time.value() >= start && beat.time.value() < start + window_s) times.push_back(beat.time.value());
  }
  if (times.size() < 4) return std::nullopt;
  for (std::size_t i = 1; i < times.size(); ++i) steps.push_back(times[i] - times[i - 1]);
  std::sort(steps.begin(), steps.end());
  const double median = steps[steps.size() / 2];
  if (steps.front() < shortest_share * median || steps.back() > longest_share * median) return std::nullopt;
  return 60.0 * static_cast<double>(times.size() - 1) / (times.back() - times.front());
}

std::vector<std::optional<double>> rates_of_beats(const BeatTrain& beats, const std::vector<Span>& spans) {
  const std::vector<Beat> accepted = beats.accepted();
  std::vector<std::optional<double>> rates(accepted.empty() ? 0 : windows_in(accepted.back().time.value()));
  for (std::size_t k = 0; k < rates.size(); ++k) {
    const double start = step_s * static_cast<double>(k);
    const bool marked = std::any_of(spans.begin(), spans.end(), [&](const Span& s) {
      return s.start.value() < start + window_s && s.end.value() > start;
    });
    if (!marked) rates[k] = rate_of_beats(accepted, start);
  }
  return rates;
}

/// Columns of the monitor's numbers.
constexpr std::size_t monitor_hr = 1, monitor_pulse = 2;

std::vector<std::optional<double>> rates_of_monitor(const std::filesystem::path& numerics, std::size_t column) {
  std::vector<double> pulse;
  for (const auto& row : rows_of(numerics)) pulse.push_back(row.size() > column ? row[column] : std::nan(""));
  std::vector<std::optional<double>> rates;
  for (double start = 0.0; start + window_s + monitor_lag_s <= static_cast<double>(pulse.size()); start += step_s) {
    double sum = 0.0;
    for (double t = start + monitor_lag_s; t < start + monitor_lag_s + window_s; t += 1.0)
      sum += pulse[static_cast<std::size_t>(t)];
    rates.push_back(std::isnan(sum) ? std::nullopt : std::optional{sum / window_s});
  }
  return rates;
}

bool is_odd(const std::string& digits) { return (digits.back() - '0') % 2 == 1; }

std::set<std::string> names_in(const std::filesystem::path& folder, const std::string& ending) {
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string file = entry.path().filename().string();
    if (file.ends_with(ending)) names.insert(file.substr(0, file.size() - ending.size()));
  }
  return names;
}

void for_each_clip(const std::function<void(const RateCase&)>& visit) {
  for (const std::string& person : scenario_people()) {
    for (const std::uint64_t seed : {1, 2}) {
      Scenario scenario = named_scenario("stair-climb", person);
      scenario.seed = seed;
      scenario.rate = Hertz{64};
      scenario.ecg.reset();
      scenario.contact.losses_per_minute = 1.0;
      const Simulation simulation = simulate(scenario);
      RateCase one;
      one.name = person + " " + std::to_string(seed);
      one.recording = simulation.recording;
      one.reference = rates_of_beats(simulation.truth.pulse_train(scenario.rate), {});
      visit(one);
    }
  }
}

}  // namespace

RateCase begun_late(RateCase one, Seconds start) {
  for (Channel& channel : one.recording.channels) {
    const auto samples = static_cast<std::ptrdiff_t>(std::lround(samples_in(start, channel.rate)));
    channel.samples.erase(channel.samples.begin(),
                          channel.samples.begin() + std::min(samples, std::ssize(channel.samples)));
  }
  one.recording.duration = one.recording.duration - start;
  const auto windows = std::lround(start / track_step);
  one.reference.erase(one.reference.begin(),
                      one.reference.begin() + std::min<std::ptrdiff_t>(windows, std::ssize(one.reference)));
  return one;
}

void for_each_rate_case(const std::filesystem::path& data, RateSet set, bool test_records,
                        const std::function<void(const RateCase&)>& visit) {
  if (set == RateSet::clip) {
    if (test_records) for_each_clip(visit);
    return;
  }
  const bool bedside = set == RateSet::bedside || set == RateSet::bedside_ecg || set == RateSet::bedside_beats;
  const bool exercise = set == RateSet::wrist || set == RateSet::chest_ecg;
  const auto folder = data / (set == RateSet::treadmill    ? "treadmill_pulse"
                              : set == RateSet::arrhythmia ? "arrhythmia"
                              : exercise                   ? "exercise_wrist"
                              : bedside                    ? "bedside"
                                                           : "anaesthesia_pulse");
  const std::string ending = set == RateSet::treadmill    ? "_reference.csv"
                             : set == RateSet::arrhythmia ? ".hea"
                             : exercise                   ? ".edf"
                             : bedside                    ? "_Signals.csv"
                                                          : "_pulse_peaks.txt";
  static const std::set<std::string> anaesthesia_development = {"0009", "0016", "0018", "0023", "0028", "0029"};
  for (const std::string& name : names_in(folder, ending)) {
    RateCase one;
    one.name = name;
    switch (set) {
      case RateSet::treadmill: one.development = is_odd(name.substr(0, name.find("_type"))); break;
      case RateSet::wrist:
      case RateSet::chest_ecg: one.development = !name.starts_with("s4"); break;
      case RateSet::arrhythmia: one.development = arrhythmia_development().contains(name); break;
      case RateSet::bedside:
      case RateSet::bedside_beats:
      case RateSet::bedside_ecg: one.development = is_odd(name); break;
      case RateSet::clip: break;
      case RateSet::anaesthesia: one.development = anaesthesia_development.contains(name); break;
    }
    if (!one.development && !test_records) continue;
    switch (set) {
      case RateSet::treadmill:
        one.recording = load(folder / (name + ".csv"));
        for (const auto& row : rows_of(folder / (name + ending))) one.reference.emplace_back(row.at(2));
        break;
      case RateSet::wrist:
      case RateSet::chest_ecg:
        if (set == RateSet::chest_ecg) one.kind = KindChoice::ecg;
        one.recording = load(folder / (name + ".edf"));
        one.reference = rates_of_beats(read_beats(folder / (name + ".txt"), Hertz{256.0}).beats, {});
        break;
      case RateSet::arrhythmia:
        one.kind = KindChoice::ecg;
        one.channels = {0};
        one.recording = load(folder / name);
        one.reference = rates_of_beats(read_beats(folder / (name + ".atr"), std::nullopt).beats, {});
        break;
      case RateSet::bedside:
      case RateSet::bedside_ecg:
        one.recording = load(folder / (name + ending));
        one.reference =
            rates_of_monitor(folder / (name + "_Numerics.csv"), set == RateSet::bedside ? monitor_pulse : monitor_hr);
        break;
      case RateSet::bedside_beats: {
        one.recording = load(folder / (name + ending));
        const BeatTrain beats = find_beats(
            one.recording, {.kind = KindChoice::ecg, .channels = {}, .condition = {}, .ecg = {}, .pulse = {}});
        one.reference = rates_of_beats(beats, beats.unreadable);
        break;
      }
      case RateSet::clip: break;
      case RateSet::anaesthesia: {
        one.recording = load(folder / (name + ".csv"), Hertz{300.0});
        const auto spans = folder / (name + "_pulse_artefact_spans.txt");
        one.reference =
            rates_of_beats(read_beats(folder / (name + ending), Hertz{300.0}).beats,
                           std::filesystem::exists(spans) ? read_spans(spans, Hertz{300.0}) : std::vector<Span>{});
        break;
      }
    }
    visit(one);
  }
}

}  // namespace accuracy
