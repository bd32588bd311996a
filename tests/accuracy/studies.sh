#!/usr/bin/env bash
# Prints the agreement tables of README: three studies on open recordings.
#
#   ./tests/accuracy/studies.sh [DATA]
#
# DATA: folder that holds the data sets; else PULSEWRIGHT_DATA, else ../shared/datasets. Without the data it says "skipped" and ends with 0.
set -euo pipefail
cd "$(dirname "$0")/../.."

data=${1:-${PULSEWRIGHT_DATA:-../shared/datasets}}
if [ ! -d "$data/bedside" ]; then
  echo "skipped: no open data sets in '$data' (datasets/obtain.sh says how to get them)"
  exit 0
fi
program=${PULSEWRIGHT_PROGRAM:-build/pulsewright}

study() {
  printf '\n### %s\n\n' "$1"
  shift
  "$program" compare rate "$@"
}

study "Bedside: finger pulse against the ECG of the same recording" datasets/studies/bedside.csv --folder "$data/bedside"
study "Treadmill: wrist pulse against rates from a chest ECG" datasets/studies/treadmill.csv --folder "$data/treadmill_pulse"
study "Exercise: wrist pulse against marked chest ECG beats" datasets/studies/exercise_wrist.csv --folder "$data/exercise_wrist"
