/// Time of filters, resampling and conditioning over 650,000 samples, with a copy of the memory as the floor.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "ecg_input.hpp"
#include "pulsewright/condition.hpp"

namespace {

using namespace pulsewright;

const Channel& ecg() {
  static const Recording recording = benchmark_input::half_hour_of_ecg();
  return recording.channels[0];
}

void copy_memory(benchmark::State& state) {
  std::vector<float> out(ecg().samples.size());
  for (auto _ : state) {
    std::copy(ecg().samples.begin(), ecg().samples.end(), out.begin());
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
}

void causal(benchmark::State& state) {
  const Sections filter = butterworth_bandpass(static_cast<int>(state.range(0)), Hertz{5}, Hertz{15}, ecg().rate);
  std::vector<float> out(ecg().samples.size());
  for (auto _ : state) {
    CausalFilter{filter}.process(ecg().samples, out);
    benchmark::DoNotOptimize(out.data());
  }
}

void zero_phase(benchmark::State& state) {
  const Sections filter = butterworth_bandpass(static_cast<int>(state.range(0)), Hertz{5}, Hertz{15}, ecg().rate);
  for (auto _ : state) benchmark::DoNotOptimize(filter_zero_phase(filter, ecg().samples));
}

void resample_360_to_250(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(resample(ecg().samples, 25, 36));
}

void condition_ecg(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(condition(ecg()));
}

void condition_pulse(benchmark::State& state) {
  Channel pulse = ecg();
  pulse.kind = ChannelKind::pulse;
  for (auto _ : state) benchmark::DoNotOptimize(condition(pulse));
}

void condition_streaming(benchmark::State& state) {
  std::vector<float> out;
  for (auto _ : state) {
    out.clear();
    StreamingConditioner{ChannelKind::ecg, ecg().rate}.push(ecg().samples, out);
    benchmark::DoNotOptimize(out.data());
  }
}

BENCHMARK(copy_memory)->Unit(benchmark::kMillisecond);
BENCHMARK(causal)->Unit(benchmark::kMillisecond)->DenseRange(1, 4);
BENCHMARK(zero_phase)->Unit(benchmark::kMillisecond)->DenseRange(1, 4);
BENCHMARK(resample_360_to_250)->Unit(benchmark::kMillisecond);
BENCHMARK(condition_ecg)->Unit(benchmark::kMillisecond);
BENCHMARK(condition_pulse)->Unit(benchmark::kMillisecond);
BENCHMARK(condition_streaming)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
