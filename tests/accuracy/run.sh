#!/usr/bin/env bash
# Prints the accuracy tables of README, measured on the open data sets by the library's scorer.
#
#   ./tests/accuracy/run.sh [--causal] [DATA]
#
# DATA: folder that holds the data sets; else PULSEWRIGHT_DATA, else ../shared/datasets. --causal adds the streaming form, which takes minutes.
# Without the data it prints the tables of what is simulated, says "skipped" and ends with 0.
set -euo pipefail
cd "$(dirname "$0")/../.."

causal=no
if [ "${1:-}" = --causal ]; then
  causal=yes
  shift
fi
effort=build/tests/accuracy/pulsewright_effort_accuracy
program=build/tests/accuracy/pulsewright_accuracy
if [ ! -x "$effort" ] || [ ! -x "$program" ]; then
  cmake -S . -B build -G Ninja >/dev/null
  cmake --build build --target pulsewright_effort_accuracy pulsewright_accuracy >/dev/null
fi
data=${1:-${PULSEWRIGHT_DATA:-../shared/datasets}}

table() {
  printf '\n### %s\n\n' "$1"
  shift
  "$program" "$data" "$@"
}

# What is simulated needs no open data.
printf '\n### Effort, simulated class\n\n'
"$effort"
table "Heart rate, finger clip of 64 Hz and 10 bits on a simulated stair-climb, as answered" --set rate-clip --summary
table "Heart rate, the same, without acceleration" --set rate-clip --without-motion --summary

if [ ! -d "$data/arrhythmia" ]; then
  echo "skipped: no open data sets in '$data' (datasets/obtain.sh says how to get them)"
  exit 0
fi
table "ECG, MIT-BIH Arrhythmia Database, first signal, all 30 min, 150 ms" --set arrhythmia
table "ECG, the same after the first 5 min (learning time of EC57)" --set arrhythmia --skip 300 --summary
table "ECG, the same, all signals fused, all 30 min" --set arrhythmia --all-signals --summary
table "ECG under noise: 118e24, 118e12, 118e00 over their noisy stretches; bw and ma mixed into 100 103 113 117 123, first signal" --set arrhythmia-noise --summary
table "ECG, reliability of confidence on the test records, first signal" --set arrhythmia-confidence
table "ECG, labels by shape and early beats against annotated kinds, first signal" --set arrhythmia-labels --summary
table "Pulse peaks, anaesthesia recordings outside marked spans, 150 ms" --set anaesthesia-pulse
table "Pulse peaks, the same, 30 ms" --set anaesthesia-pulse --tolerance 0.030 --summary
table "ECG, anaesthesia recordings outside marked spans, 150 ms" --set anaesthesia-ecg --summary
table "ECG, chest electrodes in exercise, 150 ms" --set exercise-ecg
table "Heart rate, treadmill recordings, every window answered" --set rate-treadmill --every-window
table "Heart rate, the same, causal form, 4.3 s after the window" --set rate-treadmill --every-window --streaming --summary
table "Heart rate, the same, without acceleration" --set rate-treadmill --every-window --without-motion --summary
table "Heart rate, the same, without acceleration, causal form" --set rate-treadmill --every-window --without-motion --streaming --summary
table "Heart rate, treadmill without acceleration, begun 80 s late, in motion" --set rate-treadmill --every-window --without-motion --begin 80 --summary
table "Heart rate, treadmill without acceleration, error of the surest windows" --set rate-treadmill --every-window --without-motion --risk
table "Heart rate, wrist recordings, every window answered" --set rate-wrist --every-window
table "Heart rate, the same, as answered" --set rate-wrist --summary
table "Heart rate, wrist recordings without motion channels, every window answered" --set rate-wrist --every-window --without-motion --summary
table "Heart rate, wrist recordings without motion channels, as answered" --set rate-wrist --without-motion --summary
table "Heart rate, wrist recordings without motion channels, error of the surest windows" --set rate-wrist --every-window --without-motion --risk
table "Heart rate, wrist recordings, error of the surest windows" --set rate-wrist --every-window --risk
table "Heart rate, chest ECG in exercise, as answered" --set rate-chest-ecg
table "Heart rate, first signal of MIT-BIH Arrhythmia, as answered" --set rate-arrhythmia --summary
table "Heart rate, bedside recordings against the monitor" --set rate-bedside --summary
table "Heart rate, the same against the monitor's rate from its ECG" --set rate-bedside-ecg --summary
table "Heart rate, the same against beats found in the ECG of the same recording" --set rate-bedside-beats --summary
table "Heart rate, anaesthesia recordings against the marked pulse peaks" --set rate-anaesthesia --summary
table "Breathing rate, anaesthesia recordings against carbon dioxide" --set breathing-anaesthesia --summary
table "Breathing rate, bedside recordings against the monitor" --set breathing-bedside --summary
if [ "$causal" = yes ]; then
  table "ECG, MIT-BIH Arrhythmia Database, first signal, all 30 min, the causal form" --set arrhythmia --streaming --summary
fi
