#!/usr/bin/env bash
# Runs one suite on the page, or ends with 77, skipped, where there is no page or no browser.
#
#   run_suite.sh SUITE.mjs FOLDER PAGE.html
set -euo pipefail
if [ ! -f "$3" ]; then
  echo "skipped: $3 was not built"
  exit 77
fi
exec "$(dirname "${BASH_SOURCE[0]}")/../browser/run_suite.sh" "$1" "$2"
