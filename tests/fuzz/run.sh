#!/usr/bin/env bash
# Runs every coverage-guided fuzzer for a while, each on a corpus that is kept, and says how many inputs each tried.
#
#   tests/fuzz/run.sh BUILD SECONDS CORPORA
#
# BUILD was made with clang: cmake -B BUILD -DCMAKE_CXX_COMPILER=clang++ -DPULSEWRIGHT_FUZZ=ON -DPULSEWRIGHT_SANITIZE=ON
# Ends with 1 at the first input that crashes, hangs for 25 s or takes 2 GB, which lies in CORPORA then.
set -euo pipefail
build=$1 seconds=$2 corpora=$(mkdir -p "$3" && realpath "$3")

for fuzzer in "$build"/tests/fuzz/fuzz_*; do
  [ -x "$fuzzer" ] || continue
  name=$(basename "$fuzzer")
  mkdir -p "$corpora/$name"
  if ! "$fuzzer" "$corpora/$name" -max_total_time="$seconds" -timeout=25 -rss_limit_mb=2048 -max_len=65536 \
    -artifact_prefix="$corpora/$name-" -print_final_stats=1 >"$corpora/$name.log" 2>&1; then
    tail -n 40 "$corpora/$name.log"
    echo "$name: failed; the input lies in $corpora" >&2
    exit 1
  fi
  echo "$name: $(sed -n 's/^stat::number_of_executed_units: *//p' "$corpora/$name.log") inputs in $seconds s," \
    "coverage $(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$corpora/$name.log" | tail -n 1)"
done
