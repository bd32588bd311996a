#!/usr/bin/env bash
# A lesson of 24 simulated sensors in compressed time, from the plan to the class report: nobody's rate is missed, and the load of the machine is printed.
#
#   live_lesson.sh PROGRAM [SPEED] [FOLDER]
#
# SPEED (10) is how many times faster than the clock on the wall the sensors send. The lesson is find the pulse, a minute of rest, 3-2x4/2-2 and recovery.
set -euo pipefail
program=$(realpath "$1")
speed=${2:-10}
folder=${3:-$(mktemp -d)}
sensor=$(dirname "$(realpath "${BASH_SOURCE[0]}")")/../../tools/firmware/simulated_sensor.py
birds=(avocet bittern curlew dunlin egret finch godwit heron ibis jay kite lark
  martin nuthatch osprey plover quail redstart siskin tern veery whimbrel wren yaffle)
mkdir -p "$folder"
sensors=()
trap 'kill "${sensors[@]}" 2>/dev/null || true' EXIT

echo "code,age_years,resting_bpm" >"$folder/roster.csv"
inputs=()
for i in "${!birds[@]}"; do
  bird=${birds[$i]} rest=$((58 + i % 12)) work=$((138 + i * 7 % 34))
  echo "$bird,$((14 + i % 3))," >>"$folder/roster.csv"
  # Rest until 1:15, warm-up to 4:15, two bouts of four minutes with a pause, cool-down, recovery.
  course=0:$rest,80:$rest,250:$((work - 25)),300:$work,495:$work,560:$((work - 30)),615:$((work - 30)),660:$work,855:$work,980:$((rest + 20)),1100:$((rest + 8))
  python3 -B "$sensor" --link "$folder/$bird.port" --course "$course" --speed "$speed" --seconds 1300 --seed "$i" \
    --jitter-us 300 --lose 0.01 --form "$([ $((i % 2)) = 0 ] && echo frames || echo lines)" >/dev/null &
  sensors+=($!)
  inputs+=("$bird=$folder/$bird.port")
done
for bird in "${birds[@]}"; do
  until [ -e "$folder/$bird.port" ]; do sleep 0.05; done
done

# A count by hand of one pupil, typed a while after each STOP.
{ sleep "$((200 / speed))"; echo "wren 18"; sleep "$((1400 / speed))"; } |
  { /usr/bin/time -f "live: %e s, %U s of one core in the program, %S s in the system, %M KB at most" \
    "$program" live "${inputs[@]}" --roster "$folder/roster.csv" --lesson 3-2x4/2-2 --record "$folder/lesson" \
    --format jsonl >"$folder/events.jsonl"; } 2>"$folder/talk.txt" || { cat "$folder/talk.txt"; exit 1; }
grep '^live:' "$folder/talk.txt"
echo "steps: $(grep -c '"note":"step"' "$folder/events.jsonl") of 9; resting rates: $(grep -c '"resting rate [0-9]' "$folder/events.jsonl") of ${#birds[@]}"
grep '"note":"count"' "$folder/events.jsonl" || echo "no count was typed in time"
"$program" class "$folder/lesson/sheet.csv" --roster "$folder/lesson/people.csv" --report "$folder/class.html" >"$folder/class.txt"
head -n 40 "$folder/class.txt"
