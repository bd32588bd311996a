#!/usr/bin/env bash
# Gets the open recordings that tests and accuracy tables use, and verifies them.
#
#   datasets/obtain.sh FOLDER      verifies the sets in FOLDER; what is missing is fetched from its publisher when there is a network
#   datasets/obtain.sh             the same with the folder named by PULSEWRIGHT_DATA
#   datasets/obtain.sh --offline FOLDER   fetches nothing
#
# FOLDER has one folder a set, named as in MANIFEST. Sets whose publisher offers the single files are fetched file by file; the others are used in
# a converted form or come as one archive, and the script says from where. Every file is checked against HASHES.
# Exit code: 0 every set is there and verified, 1 a set is missing or incomplete, 2 wrong usage, 3 a file does not fit its hash.
set -uo pipefail

here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
offline=no
if [ "${1:-}" = --offline ]; then offline=yes; shift; fi
data="${1:-${PULSEWRIGHT_DATA:-}}"
if [ $# -gt 1 ] || [ -z "$data" ]; then
  sed -n '2,10s/^# \{0,1\}//p' "${BASH_SOURCE[0]}" >&2
  exit 2
fi
mkdir -p "$data" || exit 2
data="$(cd "$data" && pwd)"

# Fetches one file, complete or not at all.
fetch() {
  mkdir -p "$(dirname "$2")"
  if curl --fail --silent --show-error --location --max-time 300 --output "$2.part" "$1"; then mv "$2.part" "$2"; else
    rm -f "$2.part"
    return 1
  fi
}

verdict=0
worse() { [ "$1" -gt "$verdict" ] && verdict="$1"; return 0; }

while IFS=$'\t' read -r set name citation licence rate unit truth place files; do
  case "$set" in '' | '#'*) continue ;; esac
  base="${files% (m)}"
  list="$(sed -n "s|^\([0-9a-f]*\)  *$set/|\1 |p" "$here/HASHES")"
  no_fetch=$offline
  [ "$base" = - ] && no_fetch=yes  # nothing to fetch from

  missing=0 wrong=0 good=0 fetched=0 unavailable=0
  while read -r hash file; do
    path="$data/$set/$file"
    if [ ! -f "$path" ] && [ $no_fetch = no ]; then
      if fetch "$base$file" "$path"; then fetched=$((fetched + 1)); else unavailable=$((unavailable + 1)); fi
      [ $unavailable -ge 3 ] && no_fetch=yes  # no network, or not there: ask no more
    fi
    if [ ! -f "$path" ]; then
      missing=$((missing + 1))
    elif [ "$(sha256sum <"$path" | cut -d' ' -f1)" = "$hash" ]; then
      good=$((good + 1))
    else
      echo "$set: $file does not fit its hash"
      wrong=$((wrong + 1))
    fi
  done <<<"$list"

  echo "$set: $good files verified, $fetched of them fetched, $missing missing, $wrong damaged"
  if [ $missing -gt 0 ]; then
    echo "  publisher: $place ($licence; $citation)"
    [ "$base" = - ] && echo "  it is used in a converted form or comes as one archive: put its files into $data/$set"
    worse 1
  fi
  [ $wrong -gt 0 ] && worse 3
done <"$here/MANIFEST"
exit "$verdict"
