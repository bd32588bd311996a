#!/usr/bin/env bash
# Runs one suite, or ends with 77, skipped, where the set-up could not be done.
#
#   run_suite.sh SUITE.mjs FOLDER
set -euo pipefail
if [ ! -f "$2/installed" ] || ! command -v chromium >/dev/null; then
  echo "skipped: no Chromium, or no packages in $2"
  exit 77
fi
exec node --test --test-reporter=spec "$1"
