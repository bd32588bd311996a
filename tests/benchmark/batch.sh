#!/usr/bin/env bash
# Times whole batches: the 48 half-hour two-signal records of the MIT-BIH Arrhythmia Database through every stage, with one worker and with two, against the
# same work scripted with numpy and scipy, in turn. Prints seconds, ratios, the most memory of any process, and records per core-hour.
#
#   tests/benchmark/batch.sh [PROGRAM]      default build/pulsewright
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

program=${1:-build/pulsewright}
data="${PULSEWRIGHT_DATA:-../shared/datasets}/arrhythmia"
if [ ! -d "$data" ]; then
  echo "skipped: the open recordings are not here"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
printf '%s\n' "$(cd "$data" && pwd)"/*.hea >"$work/all.lst"
for round in 1 2 3; do
  for workers in 1 2; do
    /usr/bin/python3 tests/benchmark/time_batch.py "$program" batch "$work/all.lst" --workers "$workers" >"$work/ours-$workers-$round.json"
    /usr/bin/python3 tests/benchmark/scipy_analyze.py "$data" "$workers" >"$work/script-$workers-$round.json"
  done
done
/usr/bin/python3 tests/benchmark/time_batch.py --table "$work"
