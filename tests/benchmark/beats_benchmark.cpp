/// Time to find the beats of half an hour of ECG, conditioning included.
#include <benchmark/benchmark.h>

#include "ecg_input.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;

const Recording& recording() {
  static const Recording input = benchmark_input::half_hour_of_ecg();
  return input;
}

void beats_with(benchmark::State& state, const FindOptions& options) {
  std::size_t beats = 0;
  for (auto _ : state) beats = find_beats(recording(), options).accepted().size();
  state.counters["beats"] = static_cast<double>(beats);
}

void beats_whole_file(benchmark::State& state) {
  FindOptions options;
  options.kind = KindChoice::ecg;
  beats_with(state, options);
}

void beats_streaming(benchmark::State& state) {
  FindOptions options;
  options.kind = KindChoice::ecg;
  options.streaming = true;
  beats_with(state, options);
}

BENCHMARK(beats_whole_file)->Unit(benchmark::kMillisecond);
BENCHMARK(beats_streaming)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  if (pulsewright::benchmark_input::asked_for_samples(argc, argv)) return 0;
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
