#!/usr/bin/env bash
# Installs the npm packages of package.json into FOLDER, unless they are there. Ends with 77, skipped, where that cannot be done.
#
#   set_up.sh FOLDER
set -euo pipefail
folder=$1
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)

skip() {
  echo "skipped: $1"
  exit 77
}

command -v chromium >/dev/null || skip "chromium is not installed"
command -v node >/dev/null || skip "node is not installed"
mkdir -p "$folder"
if cmp -s "$here/package.json" "$folder/package.json" && [ -f "$folder/installed" ]; then exit 0; fi
command -v npm >/dev/null || skip "npm is not installed"
rm -f "$folder/installed"
cp "$here/package.json" "$folder/package.json"
npm install --prefix "$folder" --no-audit --no-fund --no-package-lock --ignore-scripts >"$folder/npm.log" 2>&1 ||
  { tail -n 5 "$folder/npm.log" && skip "npm could not install the packages of tests/browser/package.json"; }
touch "$folder/installed"
