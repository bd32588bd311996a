#!/usr/bin/env bash
# Times the library against scipy on the same samples in one run and prints ratios: half an hour of ECG at 360 Hz, record 100 of the
# MIT-BIH Arrhythmia Database where the open recordings are (PULSEWRIGHT_DATA or ../shared/datasets), else made-up beats;
# ten minutes of a made-up wrist in motion, four channels at 125 Hz; and a made-up day of 100,000 beats.
#
#   tests/benchmark/run.sh [BUILD FOLDER]      default build-benchmark/
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

build=${1:-build-benchmark}
here=tests/benchmark
cmake -S . -B "$build" -G Ninja -DPULSEWRIGHT_BENCHMARKS=ON -DPULSEWRIGHT_TESTS=OFF -DCMAKE_BUILD_TYPE=Release --log-level=NOTICE >/dev/null
cmake --build "$build" --target filters_benchmark beats_benchmark track_benchmark variability_benchmark >&2

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
programs=$(dirname "$(find "$build" -name filters_benchmark -type f | head -n 1)")
"$programs/beats_benchmark" --samples "$work/ecg.f32"
"$programs/track_benchmark" --samples "$work/wrist.f32"
"$programs/variability_benchmark" --intervals "$work/day.f64"

# Each side runs in turn, three times over, so that a busy machine hurts both.
options=(--benchmark_format=json --benchmark_min_time=0.3)
for round in 1 2 3; do
  "$programs/filters_benchmark" "${options[@]}" >"$work/filters$round.json" 2>/dev/null
  "$programs/beats_benchmark" "${options[@]}" >"$work/beats$round.json" 2>/dev/null
  "$programs/track_benchmark" "${options[@]}" >"$work/track$round.json" 2>/dev/null
  "$programs/variability_benchmark" "${options[@]}" >"$work/variability$round.json" 2>/dev/null
  /usr/bin/python3 "$here/scipy_rates.py" "$work/wrist.f32" 125 4 5 >"$work/rates$round.json"
  /usr/bin/python3 "$here/scipy_beats.py" "$work/ecg.f32" 360 5 >"$work/scipy$round.json"
done
/usr/bin/python3 "$here/numpy_variability.py" "$work/day.f64" 3 >"$work/numpy_variability.json"
/usr/bin/python3 "$here/ratios.py" "$work"
