#!/usr/bin/env bash
# Compiles the sketch for an ATmega328P in every form it has, without a warning, and looks at its size.
#
#   cross_compile.sh SOURCE FOLDER
set -euo pipefail
command -v avr-gcc >/dev/null || { echo "skipped: avr-gcc is not installed"; exit 77; }
cd "$1"
for asked in "" "-DSEND_FRAMES=0" "-DSAMPLE_RATE_HZ=250" "-DF_CPU=8000000UL -DBAUD=57600UL"; do
  program=$2/finger_clip.elf
  case $asked in *F_CPU*) clock="" ;; *) clock=-DF_CPU=16000000UL ;; esac
  # shellcheck disable=SC2086  # several options
  avr-gcc -mmcu=atmega328p $clock $asked -Os -std=c11 -Wall -Wextra -Wconversion -Werror -o "$program" finger_clip.c
  read -r flash memory < <(avr-size "$program" | awk 'NR == 2 { print $1 + $2, $2 + $3 }')
  echo "${asked:-as it is}: $flash bytes of flash, $memory of memory"
  # The part has 32,768 and 2,048 (its data sheet); a quarter of the memory is left for the stack.
  [ "$flash" -le 32768 ] && [ "$memory" -le 1536 ]
done
# A rate that the timer does not divide into evenly is refused when it is compiled.
if avr-gcc -mmcu=atmega328p -DSAMPLE_RATE_HZ=360 -std=c11 -fsyntax-only finger_clip.c 2>/dev/null; then
  echo "360 Hz was accepted"
  exit 1
fi
