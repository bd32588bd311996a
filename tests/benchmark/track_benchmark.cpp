/// Time to follow the heart rate through ten minutes of a wrist in motion, four channels at 125 Hz, conditioning included, and through its pulse channel alone; `x_real_time` is what matters.
#include <benchmark/benchmark.h>

#include <fstream>
#include <string_view>

#include "../3_beats/running_scene.hpp"
#include "pulsewright/rate_track.hpp"

namespace {

using namespace pulsewright;

constexpr double seconds = 600;

const Recording& recording() {
  static const Recording input = [] {
    beat_tests::RunningScene scene;
    scene.heart = [](double t) { return 130.0 + 25.0 * std::sin(0.01 * t); };
    scene.seconds = seconds;
    return beat_tests::running(scene);
  }();
  return input;
}

void track_with(benchmark::State& state, const TrackOptions& options) {
  for (auto _ : state) benchmark::DoNotOptimize(track_rate(recording(), options).points.size());
  state.counters["x_real_time"] =
      benchmark::Counter(seconds * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

void track_whole_file(benchmark::State& state) { track_with(state, {}); }

void track_streaming(benchmark::State& state) {
  TrackOptions options;
  options.streaming = true;
  track_with(state, options);
}

void track_without_motion(benchmark::State& state) {
  TrackOptions options;
  options.motion.emplace();
  track_with(state, options);
}

BENCHMARK(track_whole_file)->Unit(benchmark::kMillisecond);
BENCHMARK(track_streaming)->Unit(benchmark::kMillisecond);
BENCHMARK(track_without_motion)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  // --samples FILE: the four channels, one after the other, as 32-bit floats for the scipy script.
  if (argc == 3 && std::string_view{argv[1]} == "--samples") {
    std::ofstream out{argv[2], std::ios::binary};
    for (const Channel& channel : recording().channels)
      out.write(reinterpret_cast<const char*>(channel.samples.data()),
                static_cast<std::streamsize>(sizeof(float) * channel.samples.size()));
    return out ? 0 : 3;
  }
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
