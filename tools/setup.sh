#!/usr/bin/env bash
# Installs the Debian packages that pulsewright needs and that are not there yet. Says nothing when none is missing.
#
#   tools/setup.sh program      to build and run the program
#   tools/setup.sh tests        to test it as well
#   tools/setup.sh benchmarks   to measure its speed as well
#
# On Debian 12 it installs with apt, as root or through sudo. On any other system it installs nothing: it looks for what
# is needed and stops only if something is missing.
set -euo pipefail

usage() {
  sed -n '2,9s/^# \{0,1\}//p' "$0"
}

program_packages=(build-essential g++ cmake ninja-build libeigen3-dev libkissfft-dev libcli11-dev nlohmann-json3-dev
  libfmt-dev libedf-dev libssl-dev librsvg2-dev libboost-dev libsndfile1-dev libsqlite3-dev)
test_packages=(libgtest-dev clang clang-format clang-tidy locales python3 python3-jsonschema python3-numpy python3-scipy)
# For the Python module, its notebooks and its batches on many machines.
test_packages+=(pybind11-dev python3-dev python3-pandas python3-matplotlib python3-nbclient python3-nbformat python3-ipykernel python3-distributed
  python3-pip python3-setuptools python3-wheel python3-venv)
# For the tests in a browser, which are skipped where these are missing. Node.js often comes from elsewhere than Debian, with npm.
test_packages+=(chromium)
command -v npm >/dev/null || test_packages+=(nodejs npm)
benchmark_packages=(libbenchmark-dev)

# What to look for where there is no package list to ask: commands, C++ headers, Python modules.
program_commands=(c++ cmake ninja pkg-config)
program_headers=(Eigen/Core kissfft/kissfft.hh CLI/CLI.hpp nlohmann/json.hpp fmt/format.h edflib.h openssl/evp.h
  boost/math/distributions/non_central_t.hpp sndfile.h sqlite3.h)
test_commands=(clang++ clang-format clang-tidy python3)
test_headers=(gtest/gtest.h)
test_modules=(jsonschema numpy scipy pybind11 pandas matplotlib nbclient ipykernel distributed)
benchmark_headers=(benchmark/benchmark.h)

case "${1:-}" in
  program)
    packages=("${program_packages[@]}")
    commands=("${program_commands[@]}")
    headers=("${program_headers[@]}")
    modules=()
    ;;
  tests | benchmarks)
    packages=("${program_packages[@]}" "${test_packages[@]}")
    commands=("${program_commands[@]}" "${test_commands[@]}")
    headers=("${program_headers[@]}" "${test_headers[@]}")
    modules=("${test_modules[@]}")
    if [ "$1" = benchmarks ]; then
      packages+=("${benchmark_packages[@]}")
      headers+=("${benchmark_headers[@]}")
    fi
    ;;
  --help | -h)
    usage
    exit 0
    ;;
  *)
    usage >&2
    exit 2
    ;;
esac

system_name() {
  (. /etc/os-release 2>/dev/null && echo "${PRETTY_NAME:-an unknown system}") || echo "an unknown system"
}

is_debian_12() {
  [ -r /etc/os-release ] && (. /etc/os-release && [ "${ID:-}" = debian ] && [ "${VERSION_ID:-}" = 12 ])
}

missing_packages() {
  local package status
  for package in "${packages[@]}"; do
    status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    if [ "$status" != installed ]; then echo "$package"; fi
  done
}

# Installs on Debian 12. The package lists are fetched only when something is to be installed.
install_on_debian() {
  local missing=() as_root=()
  mapfile -t missing < <(missing_packages)
  if [ "${#missing[@]}" -eq 0 ]; then return; fi
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "Missing packages: ${missing[*]}"
      echo "Run this as root, or install sudo, or ask whoever looks after this machine to run:"
      echo "  apt-get install ${missing[*]}"
      exit 1
    fi >&2
    as_root=(sudo)
  fi
  echo "Installing ${#missing[@]} missing Debian packages: ${missing[*]}"
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
  mapfile -t missing < <(missing_packages)
  if [ "${#missing[@]}" -ne 0 ]; then
    echo "apt-get finished but these packages are still missing: ${missing[*]}" >&2
    exit 1
  fi
}

# Looks for everything elsewhere, and names what is not found.
look_elsewhere() {
  local lacking=() command header module python=python3
  if [ -x /usr/bin/python3 ]; then python=/usr/bin/python3; fi  # as tests/CMakeLists.txt does
  for command in "${commands[@]}"; do
    command -v "$command" >/dev/null || lacking+=("the command $command")
  done
  if command -v c++ >/dev/null; then
    for header in "${headers[@]}"; do
      echo "#include <$header>" |
        c++ -std=c++20 -E -x c++ -I/usr/include/eigen3 -I/usr/local/include/eigen3 - >/dev/null 2>&1 ||
        lacking+=("the C++ header <$header>")
    done
  fi
  for module in "${modules[@]}"; do
    "$python" -c "import $module" >/dev/null 2>&1 || lacking+=("the Python module $module")
  done
  if [ "${#lacking[@]}" -eq 0 ]; then return; fi
  {
    echo "This is $(system_name). Packages are installed automatically on Debian 12 only."
    echo "Missing here:"
    printf '  %s\n' "${lacking[@]}"
    echo "Debian 12 has them in these packages; your system's may be called otherwise:"
    echo "  ${packages[*]}"
  } >&2
  exit 1
}

if is_debian_12; then
  install_on_debian
else
  look_elsewhere
fi
