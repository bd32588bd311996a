#!/usr/bin/env bash
# Sets up, builds into build/ and runs every test.
#
#   ./tests/run.sh          every test, through CTest
#   ./tests/run.sh --full   before that: the tests under the address and undefined-behaviour sanitizers, a build with
#                           clang, and longer searches for bad input
#
# Tests on open recordings look for them in the folder named by PULSEWRIGHT_DATA, else in ../shared/datasets, and are
# counted as skipped when they are not there. Tests in a browser install what they need from npm into the build folder, and are
# counted as skipped where Chromium, Node.js or npm's packages cannot be had.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

usage() {
  sed -n '2,11s/^# \{0,1\}//p' tests/run.sh
}

full=no
for argument in "$@"; do
  case "$argument" in
    --full) full=yes ;;
    --help | -h)
      usage
      exit 0
      ;;
    *)
      echo "tests/run.sh: unknown option $argument" >&2
      usage >&2
      exit 2
      ;;
  esac
done

tools/setup.sh tests

jobs=$(nproc)
if [ -t 1 ]; then ninja_options=(); else ninja_options=(--quiet); fi  # no progress in a log
if command -v ccache >/dev/null; then export CMAKE_CXX_COMPILER_LAUNCHER="${CMAKE_CXX_COMPILER_LAUNCHER-ccache}"; fi

data="${PULSEWRIGHT_DATA:-$PWD/../shared/datasets}"
if [ -d "$data" ]; then
  echo "Open recordings: found in $(cd "$data" && pwd)."
else
  echo "Open recordings: not found (PULSEWRIGHT_DATA is ${PULSEWRIGHT_DATA:-not set}, no ../shared/datasets). Tests that need them are skipped."
fi

# Tests read numbers under a locale with decimal commas; glibc finds one made here by LOCPATH.
mkdir -p build/locale
if [ -d build/locale/de_DE.UTF-8 ] || localedef -i de_DE -f UTF-8 build/locale/de_DE.UTF-8 2>/dev/null; then
  export LOCPATH="$PWD/build/locale"
fi

# configure_and_build FOLDER [CMAKE OPTIONS]
configure_and_build() {
  local folder=$1
  shift
  echo "Building into $folder/"
  cmake -S . -B "$folder" -G Ninja --log-level=NOTICE -DPULSEWRIGHT_TESTS=ON "$@" >/dev/null
  # What the build costs in processor time, whatever else the machine does; .ci/run holds it to a bound.
  local TIMEFORMAT="Built $folder/ in %U s of processor time, %R s by the clock"
  time cmake --build "$folder" -j "$jobs" -- "${ninja_options[@]}"
}

# run_tests FOLDER [CTEST OPTIONS]
run_tests() {
  local folder=$1
  shift
  ctest --test-dir "$folder" --output-on-failure --no-tests=error -j "$jobs" "$@"
}

if [ "$full" = yes ]; then
  echo "== Sanitizers: every test whose outcome depends on how the code is built, and longer searches for bad input"
  configure_and_build build-sanitize -DCMAKE_BUILD_TYPE=RelWithDebInfo -DPULSEWRIGHT_SANITIZE=ON
  export LSAN_OPTIONS="suppressions=$PWD/tests/leaks_of_others.txt:print_suppressions=0"
  export PULSEWRIGHT_LONG=1  # tests take more time: more bad input, a fresh build for README's commands
  run_tests build-sanitize -LE build_independent
  echo "== clang"
  configure_and_build build-clang -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_COMPILER=clang++
  run_tests build-clang -LE build_independent
  echo "== The ordinary build"
fi

configure_and_build build -DCMAKE_BUILD_TYPE=Release
run_tests build
