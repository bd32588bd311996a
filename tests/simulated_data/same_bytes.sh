#!/usr/bin/env bash
# same_bytes.sh PROGRAM FOLDER: makes the simulated recordings in a folder of its own and compares every file with FOLDER's.
set -euo pipefail

program=$1
committed=$2
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT

"$committed/make.sh" "$program" "$made"
diff --recursive --brief --exclude=make.sh --exclude=README.md "$committed" "$made"
find "$made" -type f -size +900k | { ! grep . ; } || { echo "a file is larger than 900 kB" >&2; exit 1; }
