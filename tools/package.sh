#!/usr/bin/env bash
# Makes the packages that need no compiler to be used, in build/packages/: the program (with manual page, completion for bash, zsh and fish, and changelog), the
# library with its headers, and the Python module as a wheel. Builds first what is not built yet.
#
#   tools/package.sh            then, as root: apt-get install ./build/packages/pulsewright_*.deb
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

if [ "$#" -ne 0 ]; then
  sed -n '2,5s/^# \{0,1\}//p' tools/package.sh
  [ "$1" = --help ] || [ "$1" = -h ] && exit 0
  echo "tools/package.sh takes no options" >&2
  exit 2
fi

tools/setup.sh tests
if command -v ccache >/dev/null; then export CMAKE_CXX_COMPILER_LAUNCHER="${CMAKE_CXX_COMPILER_LAUNCHER-ccache}"; fi
if [ ! -f build/build.ninja ]; then
  cmake -S . -B build -G Ninja --log-level=NOTICE -DCMAKE_BUILD_TYPE=Release >/dev/null
fi
cmake --build build --target pulsewright_program pulsewright_python -- --quiet

packages=$PWD/build/packages
rm -rf "$packages"
mkdir -p "$packages"
cpack -G DEB --config build/CPackConfig.cmake -B "$packages" >/dev/null
rm -rf "$packages/_CPack_Packages"

python=python3
if [ -x /usr/bin/python3 ]; then python=/usr/bin/python3; fi
PULSEWRIGHT_BUILT=$PWD/build "$python" -m pip wheel --quiet --no-index --no-deps --no-build-isolation --wheel-dir "$packages" ./tools/python

ls "$packages"
