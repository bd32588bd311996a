/// Time to write the report of a session of half an hour and of a day, the analysis not counted, and how large it is.
#include <benchmark/benchmark.h>

#include "pulsewright/report.hpp"
#include "pulsewright/simulate.hpp"

namespace {

using namespace pulsewright;

/// A finger clip at 64 Hz, with what was found in it.
struct Session {
  Recording recording;
  ChosenSignals chosen;
  Analysis analysis;

  explicit Session(Seconds length) {
    Scenario scene;
    scene.name = "session";
    scene.rate = Hertz{64};
    scene.phases = {{.name = "sit", .duration = length / 2, .target = BeatsPerMinute{70}},
                    {.name = "climb", .duration = length / 2, .target = BeatsPerMinute{140}}};
    scene.pulse = PulseSensor{};
    recording = simulate(scene).recording;
    const FindOptions options;
    chosen = choose_signals(recording, options);
    Person person;
    person.age_years = 15;
    person.resting = BeatsPerMinute{66};
    analysis = analyze(find_beats(recording, chosen, options), person);
  }
};

void write_report(benchmark::State& state) {
  const Session session(Seconds{static_cast<double>(state.range(0))});
  std::size_t size = 0;
  for (auto _ : state) size = session_report({session.analysis, &session.recording, &session.chosen}).size();
  state.counters["bytes"] = static_cast<double>(size);
}

BENCHMARK(write_report)->ArgName("seconds")->Arg(1800)->Arg(86400)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
