/// A day of beats (100,000) through every measure of variability, cleaning included, and the costly ones alone.
///
///   variability_benchmark [--intervals FILE] [options of Google Benchmark]      FILE: writes the intervals, ms as 64-bit floats, and ends
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstring>
#include <fstream>
#include <random>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/variability.hpp"

namespace {

using namespace pulsewright;

constexpr std::size_t beats = 100'000;
constexpr double pi = 3.14159265358979323846;

/// A made-up day: a slow course of day and night, waves of blood pressure and breathing, noise, ticks of a 250 Hz clock.
std::vector<double> day() {
  std::mt19937 random(7);
  std::vector<double> values;
  double t = 0.0, drift = 0.0;
  for (std::size_t i = 0; i < beats; ++i) {
    const double noise = static_cast<double>(random()) / 4294967296.0 - 0.5;
    drift = 0.999 * drift + 4.0 * noise;
    const double ms = 850.0 + 120.0 * std::sin(2.0 * pi * t / 86400.0) + drift + 25.0 * std::sin(2.0 * pi * 0.1 * t) +
                      20.0 * std::sin(2.0 * pi * 0.25 * t) + 20.0 * noise;
    values.push_back(4.0 * std::round(ms / 4.0));
    t += values.back() / 1000.0;
  }
  return values;
}

BeatTrain train() {
  BeatTrain result;
  double t = 0.0;
  const auto put = [&] {
    Beat beat;
    beat.time = Seconds{t};
    result.candidates.push_back(beat);
  };
  put();
  for (const double ms : day()) {
    t += ms / 1000.0;
    put();
  }
  result.duration = Seconds{t};
  return result;
}

void everything(benchmark::State& state) {
  const BeatTrain beats_of_a_day = train();
  for (auto _ : state) benchmark::DoNotOptimize(variability(clean(beats_of_a_day)));
}
BENCHMARK(everything)->Unit(benchmark::kMillisecond);

void cleaning(benchmark::State& state) {
  const BeatTrain beats_of_a_day = train();
  for (auto _ : state) benchmark::DoNotOptimize(clean(beats_of_a_day));
}
BENCHMARK(cleaning)->Unit(benchmark::kMillisecond);

void entropies_of_a_day(benchmark::State& state) {
  const std::vector<double> values = day();
  for (auto _ : state) benchmark::DoNotOptimize(entropies(values));
}
BENCHMARK(entropies_of_a_day)->Unit(benchmark::kMillisecond);

void scaling(benchmark::State& state) {
  const std::vector<double> values = day();
  for (auto _ : state) {
    benchmark::DoNotOptimize(fluctuation_exponent(values, 4, 16));
    benchmark::DoNotOptimize(fluctuation_exponent(values, 16, 64));
  }
}
BENCHMARK(scaling)->Unit(benchmark::kMillisecond);

void lomb_scargle(benchmark::State& state) {
  TimedIntervals timed;
  double t = 0.0;
  for (const double ms : day()) {
    timed.time_s.push_back(t += ms / 1000.0);
    timed.ms.push_back(ms);
  }
  for (auto _ : state) benchmark::DoNotOptimize(lomb_scargle_spectrum(timed));
}
BENCHMARK(lomb_scargle)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  if (argc == 3 && std::strcmp(argv[1], "--intervals") == 0) {
    const std::vector<double> values = day();
    std::ofstream file(argv[2], std::ios::binary);
    file.write(reinterpret_cast<const char*>(values.data()), static_cast<std::streamsize>(8 * values.size()));
    return file ? 0 : 1;
  }
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
}
