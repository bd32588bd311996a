#!/usr/bin/env bash
# Times `analyze --report` from file to page: half an hour and a day of a made-up finger clip, and half an hour of two-signal ECG where the open recordings are
# (PULSEWRIGHT_DATA or ../shared/datasets); on all processors and on one, in turn, five times over. Prints the shortest and the longest time, and the size of the page.
#
#   tests/benchmark/reports.sh [PROGRAM]      default build/pulsewright
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

program=$(realpath "${1:-build/pulsewright}")
ecg=$(realpath -m "${PULSEWRIGHT_DATA:-../shared/datasets}/arrhythmia/100.hea")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

clip() {  # NAME RATE SECONDS
  "$program" simulate --scenario stair-climb --kind pulse --rate "$2" --duration "$3" --out "$work/$1" 2>/dev/null >&2
  echo "$work/$1/wren_stair_climb.csv"
}
names=("half an hour of finger clip, 64 Hz" "a day of finger clip, 50 Hz")
inputs=("$(clip short 64 1800)" "$(clip day 50 86400)")
if [ -f "$ecg" ]; then
  names+=("half an hour of two-signal ECG, 360 Hz")
  inputs+=("$ecg")
fi

TIMEFORMAT=%R
seconds() { { time "$@" >/dev/null 2>&1; } 2>&1; }
for i in "${!inputs[@]}"; do
  "$program" analyze "${inputs[$i]}" --report "$work/page.html" >/dev/null 2>"$work/said" || { cat "$work/said" >&2 && exit 1; }
  for round in 1 2 3 4 5; do
    seconds "$program" analyze "${inputs[$i]}" --report "$work/page.html" >>"$work/all-$i"
    seconds taskset -c 0 "$program" analyze "${inputs[$i]}" --report "$work/page.html" >>"$work/one-$i"
  done
  span() { sort -n "$1" | sed -n '1p;$p' | paste -sd ' ' | sed 's/ / to /'; }
  printf '%-40s all processors %s s, one %s s, page %s MB\n' "${names[$i]}" "$(span "$work/all-$i")" "$(span "$work/one-$i")" \
    "$(awk -v bytes="$(stat -c %s "$work/page.html")" 'BEGIN { printf "%.1f", bytes / 1e6 }')"
done
