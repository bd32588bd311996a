// Reads a list of intervals, cleans them and prints the mean heart rate: stages 1, 4 and 5 of an installed library.
#include <cstdio>
#include <exception>
#include <pulsewright/clean.hpp>
#include <pulsewright/read.hpp>
#include <pulsewright/variability.hpp>

int main(int count, char** arguments) {
  if (count != 2) return 2;
  try {
    const auto beats = pulsewright::read_intervals(arguments[1], pulsewright::IntervalUnit::milliseconds);
    const auto result = pulsewright::variability(pulsewright::clean(beats));
    if (!result.mean_hr_bpm) return 1;
    std::printf("pulsewright %s: %.3f beats/min\n", pulsewright::version(), *result.mean_hr_bpm);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 3;
  }
  return 0;
}
