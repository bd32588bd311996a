#include "bench_returns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "compare_rates.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/median.hpp"
#include "pulsewright/read.hpp"
#include "records/beat_list.hpp"
#include "records/wav_file.hpp"

namespace pulsewright::program {
namespace {

namespace fs = std::filesystem;

/// The channel of a recording that holds the wave, alone.
struct ReturnedWave {
  BenchWave wave;
  Recording recording;
  std::optional<BenchReturn> found;
};

bool is_voltage(std::string unit) {
  std::transform(unit.begin(), unit.end(), unit.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  constexpr std::array units{"v", "mv", "uv", "\u00b5v", "\u03bcv", "nv"};
  return std::find(units.begin(), units.end(), unit) != units.end();
}

std::vector<std::size_t> candidates(const InputFlags& flags, const Recording& recording) {
  if (!flags.channels.empty()) return find_options(flags, recording).channels;
  std::vector<std::size_t> all(recording.channels.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  return all;
}

ReturnedWave returned_wave(const BenchWave& wave, const InputFlags& flags) {
  const bool sound = fs::path(flags.input).extension() == ".wav";
  Recording recording = sound ? read_wav(flags.input) : read_recording(flags.input, read_options(flags));
  std::size_t best = 0;
  std::optional<BenchReturn> most;
  for (const std::size_t channel : candidates(flags, recording)) {
    const auto found = find_wave(wave, recording.channels[channel]);
    if (!found || (most && std::abs(found->correlation) <= std::abs(most->correlation))) continue;
    most = found;
    best = channel;
  }
  if (recording.channels.empty()) throw Error(ErrorCode::unreadable, flags.input + ": holds no channel");
  Channel channel = std::move(recording.channels[best]);
  channel.kind = ChannelKind::ecg;
  recording.channels = {std::move(channel)};
  if (most && std::abs(most->correlation) < least_bench_correlation) most.reset();
  return {wave, std::move(recording), most};
}

/// The gain that all recordings without a unit of voltage share; nothing when no wave was found in them.
std::optional<double> usual_gain(const std::vector<ReturnedWave>& returned) {
  std::vector<double> gains;
  for (const ReturnedWave& one : returned)
    if (one.found && !is_voltage(one.recording.channels.front().unit)) gains.push_back(one.found->gain);
  if (gains.empty()) return std::nullopt;
  return upper_median(std::span(gains));
}

BenchResult score_recording(ReturnedWave returned, std::optional<double> gain) {
  Channel& channel = returned.recording.channels.front();
  if (gain && *gain != 0 && !is_voltage(channel.unit)) {
    for (float& sample : channel.samples) sample = static_cast<float>(static_cast<double>(sample) / *gain);
    channel.unit = "mV";
  }
  const BeatTrain beats = find_beats(returned.recording);
  BenchResult result = score_bench(returned.wave, rate_over_windows(beats, clean(beats)),
                                   returned.found ? returned.found->delay : Seconds{0});
  result.returned = returned.found;
  if (!returned.found) result.add_note("the wave was not found in the recording");
  return result;
}

/// Files that are called like the wave; the first one is scored.
std::vector<fs::path> files_of(const BenchWave& wave, const fs::path& folder) {
  std::vector<fs::path> files;
  for (const char* ending : {".csv", ".tsv", ".txt", ".edf", ".hea", ".wav"})
    if (fs::path file = folder / (wave.name + ending); fs::exists(file)) files.push_back(std::move(file));
  return files;
}

}  // namespace

std::vector<BenchResult> score_returned(const InputFlags& flags) {
  std::vector<BenchResult> results;
  std::vector<ReturnedWave> recordings;
  std::vector<std::size_t> places;  // of the recordings among the results
  std::vector<std::string> beside;  // of each result: further files of the same wave
  for (const BenchWave& wave : bench_waves()) {
    const std::vector<fs::path> files = files_of(wave, flags.input);
    if (files.empty()) continue;
    std::string others;
    for (std::size_t i = 1; i < files.size(); ++i) others += (i > 1 ? ", " : "") + files[i].filename().string();
    beside.push_back(std::move(others));
    InputFlags one = flags;
    one.input = files.front().string();
    const bool sound = files.front().extension() == ".wav";
    if (!sound && (is_beat_list(one.input) || holds_rates(one.input))) {
      results.push_back(score_bench(wave, read_side(one, "", RateOptions{}).side.rates));
    } else {
      places.push_back(results.size());
      results.push_back({});
      recordings.push_back(returned_wave(wave, one));
    }
  }
  const auto gain = usual_gain(recordings);
  for (std::size_t i = 0; i < recordings.size(); ++i)
    results[places[i]] = score_recording(std::move(recordings[i]), gain);
  for (std::size_t i = 0; i < results.size(); ++i)
    if (!beside[i].empty()) results[i].add_note("not looked at beside it: " + beside[i]);
  return results;
}

}  // namespace pulsewright::program
