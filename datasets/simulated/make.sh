#!/usr/bin/env bash
# Makes every file of this folder anew: make.sh PROGRAM FOLDER
# PROGRAM is the built pulsewright, FOLDER an existing folder to write into. The bytes are the same on any x86-64 machine.
set -euo pipefail

program=$1
folder=$2

simulate() { "$program" simulate --overwrite "$@" 2>/dev/null; }

# One session of Wren's, seen by the finger clip and by the chest ECG: same seed, same heart.
simulate --scenario stair-climb --person wren --seed 11 --kind pulse --rate 100 --out "$folder"
simulate --scenario stair-climb --person wren --seed 11 --kind ecg --rate 250 --store record --name wren_stair_climb_chest --out "$folder"

# Heron sitting: a chest ECG, its intervals, and its beats as marked by eye.
simulate --scenario rest --person heron --seed 12 --kind ecg --rate 125 --duration 180 --name heron_rest_ecg --intervals --observer --out "$folder"

# A short stair-climb of everybody, for scoring a folder; the truth lies apart, so that the folder holds recordings only.
for person in wren heron plover; do
  simulate --scenario stair-climb --person "$person" --seed 13 --kind pulse --rate 50 --duration 240 --name "$person" --out "$folder/club_truth"
  mkdir -p "$folder/club"
  mv "$folder/club_truth/$person.csv" "$folder/club/"
done

# What is known of the club, and whose recording is whose.
cat >"$folder/club_roster.csv" <<'END'
code,age_years,sex,resting_bpm,maximum_bpm,ceiling_bpm,exercise
wren,15,female,66,,,legs
heron,15,male,84,,,legs
plover,14,,70,,190,legs
END
cat >"$folder/club_sheet.csv" <<'END'
code,file,file_begins,activity,exertion,laps
wren,club/wren.csv,10:05:00,stair-climb,11,9
heron,club/heron.csv,10:05:00,stair-climb,17,5
plover,club/plover.csv,10:05:00,stair-climb,14,7
END
