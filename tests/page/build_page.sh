#!/usr/bin/env bash
# Builds the page into FILE, or ends with 77, skipped, where what it is built with is not there.
#
#   build_page.sh SOURCE FILE.html
set -euo pipefail
for command in em++ esbuild node; do
  if ! command -v "$command" >/dev/null; then
    rm -f "$2"
    echo "skipped: $command is not installed"
    exit 77
  fi
done
cd "$1"
exec tools/page/build.sh "$2"
