#!/usr/bin/env bash
# Installs what is missing, builds the program into build/ and analyses a recording of a stair-climb: Wren, aged 15, with the science club's
# optical clip on a finger. Wren and the recording are invented.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

if [ "$#" -ne 0 ]; then
  sed -n '2,3s/^# \{0,1\}//p' tools/demo.sh
  [ "$1" = --help ] || [ "$1" = -h ] && exit 0
  echo "tools/demo.sh takes no options" >&2
  exit 2
fi

recording=datasets/simulated/wren_stair_climb.csv
results=results/demo

tools/setup.sh program

if command -v ccache >/dev/null; then export CMAKE_CXX_COMPILER_LAUNCHER="${CMAKE_CXX_COMPILER_LAUNCHER-ccache}"; fi
if [ ! -f build/build.ninja ]; then
  echo "Building into build/. The first time takes some $((400 / $(nproc) / 60 + 1)) minutes; after that, seconds."
  cmake -S . -B build -G Ninja --log-level=NOTICE -DCMAKE_BUILD_TYPE=Release -DPULSEWRIGHT_TESTS=OFF >/dev/null
fi
# On a terminal ninja shows its progress in one line; elsewhere a line for every tenth is enough.
if [ -t 1 ]; then
  cmake --build build --target pulsewright_program
else
  NINJA_STATUS='%p ' cmake --build build --target pulsewright_program |
    awk '/^ *[0-9]+%/ { if (int($1 / 10) > tenth) { tenth = int($1 / 10); print "  " 10 * tenth " % built"; fflush() } next }
         !/^ninja: / { print }'
fi

analyze=(build/pulsewright analyze "$recording" --age 15 --resting 66 --out "$results" --overwrite --report "$results/report.html")
echo
echo "${analyze[*]}"
echo
"${analyze[@]}"
echo
echo "The results lie in $results/:"
for file in "$results"/*; do echo "  $file"; done
