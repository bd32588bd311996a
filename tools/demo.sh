#!/usr/bin/env bash
# Installs what is missing, builds the program into build/, makes up a lesson of Lapwing, aged 16, with the science club's optical clip on a
# finger, and analyses it. Lapwing and the recording are invented.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

if [ "$#" -ne 0 ]; then
  sed -n '2,3s/^# \{0,1\}//p' tools/demo.sh
  [ "$1" = --help ] || [ "$1" = -h ] && exit 0
  echo "tools/demo.sh takes no options" >&2
  exit 2
fi

results=results/demo
recording=$results/lapwing_lesson.csv

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

simulate=(build/pulsewright simulate --scenario lesson --person lapwing --seed 21 --kind pulse,acceleration --rate 50 --out "$results" --overwrite)
analyze=(build/pulsewright analyze "$recording" --age 16 --resting 58 --out "$results" --overwrite --report "$results/report.html"
  --workings "$results/workings.html")
"${simulate[@]}" 2>/dev/null >/dev/null
echo "${analyze[*]}"
"${analyze[@]}" 2>"$results/notes.txt" >/dev/null
echo
# What fits a screen; the long numbers lie in the files.
sed -n '1,/^$/p' "$results/summary.txt" | head -n 12
cat <<END
Look at   $results/report.html      the lesson, in a browser
          $results/workings.html    ten seconds of it, step by step from samples to heart rate
Numbers   $results/summary.txt, beats.csv, intervals.csv, rate.csv, variability.json, effort.json, analysis.json
Notes     $results/notes.txt        what the program noticed
Browser   build/pulsewright.html      the same work with nothing to install; tools/page/build.sh makes it
END
