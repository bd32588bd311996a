#!/usr/bin/env bash
# Builds build/pulsewright.html: the page that does the program's work in a browser, in one file, from the same sources.
# Debian's emscripten compiles the library in build-page/, esbuild puts the scripts together. tools/setup.sh page installs both.
#
#   tools/page/build.sh [FILE.html]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

out=${1:-build/pulsewright.html}
folder=build-page

for command in em++ esbuild node cmake ninja; do
  if ! command -v "$command" >/dev/null; then
    echo "tools/page/build.sh needs $command; tools/setup.sh page installs it" >&2
    exit 3
  fi
done

# Debian's emscripten looks for its JavaScript packages where Debian's Node.js would.
export NODE_PATH="${NODE_PATH:-/usr/share/nodejs}"
if command -v ccache >/dev/null; then
  export CMAKE_CXX_COMPILER_LAUNCHER="${CMAKE_CXX_COMPILER_LAUNCHER-cmake;-E;env;CCACHE_SLOPPINESS=pch_defines,time_macros;CCACHE_DEPEND=1;ccache}"
fi
if [ ! -f "$folder/build.ninja" ]; then
  mkdir -p "$folder"
  emcmake cmake -S tools/page -B "$folder" -G Ninja --log-level=NOTICE -DCMAKE_BUILD_TYPE=Release >/dev/null 2>&1
fi
if [ -t 1 ]; then ninja_options=(); else ninja_options=(--quiet); fi
cmake --build "$folder" -- "${ninja_options[@]}"

bundle=(esbuild --bundle --charset=utf8 --log-level=warning --target=chrome95,firefox113,safari16.4 --format=iife)
"${bundle[@]}" tools/page/app/main.mjs "--outfile=$folder/main.js"
"${bundle[@]}" tools/page/app/worker.mjs "--outfile=$folder/worker_alone.js"
cat "$folder/pulsewright_module.js" "$folder/worker_alone.js" >"$folder/worker.js"
mkdir -p "$(dirname "$out")"
node tools/page/inline.mjs --source . --build "$folder" --out "$out"
