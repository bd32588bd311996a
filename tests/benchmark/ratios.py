#!/usr/bin/env python3
"""Prints what run.sh measured: the best of the rounds of each side, and ratios. ratios.py FOLDER"""
import glob
import json
import os
import sys


def main():
    folder = sys.argv[1]
    best, beats = {}, {}
    for path in glob.glob(os.path.join(folder, "filters?.json")) + glob.glob(os.path.join(folder, "beats?.json")):
        with open(path, encoding="utf-8") as f:
            for row in json.load(f)["benchmarks"]:
                best[row["name"]] = min(best.get(row["name"], float("inf")), row["cpu_time"])
                if "beats" in row:
                    beats[row["name"]] = int(row["beats"])
    track, real_time = {}, {}
    for path in glob.glob(os.path.join(folder, "track?.json")):
        with open(path, encoding="utf-8") as f:
            for row in json.load(f)["benchmarks"]:
                track[row["name"]] = min(track.get(row["name"], float("inf")), row["cpu_time"])
                real_time[row["name"]] = max(real_time.get(row["name"], 0.0), row["x_real_time"])
    rates = []
    for path in glob.glob(os.path.join(folder, "rates?.json")):
        with open(path, encoding="utf-8") as f:
            rates.append(json.load(f)["best_ms"])
    scipy = []
    for path in glob.glob(os.path.join(folder, "scipy?.json")):
        with open(path, encoding="utf-8") as f:
            scipy.append(json.load(f))
    script = min(r["best_ms"] for r in scipy)
    filtering = min(r["zero_phase_best_ms"] for r in scipy)

    copy = best["copy_memory"]
    print(f"{'':34} {'ms':>9} {'x copy':>8}")
    for name, ms in best.items():
        note = f"   {beats[name]} beats" if name in beats else ""
        print(f"{name:34} {ms:9.3f} {ms / copy:8.1f}{note}")
    print(f"{'scipy ' + scipy[0]['scipy'] + ' band-pass, sosfiltfilt':34} {filtering:9.3f} {filtering / copy:8.1f}")
    print(f"{'scipy script, beats':34} {script:9.3f} {script / copy:8.1f}   {scipy[0]['beats']} beats")
    print()
    print(f"zero-phase band-pass of two sections: {filtering / best['zero_phase/2']:.1f} times as fast as scipy")
    print(f"beats of the whole file:              {script / best['beats_whole_file']:.1f} times as fast as the scipy script")
    print(f"beats, streaming form:                {script / best['beats_streaming']:.1f} times as fast as the scipy script")
    for name, ms in track.items():
        print(f"{name + ', 10 min of four channels:':38}{ms:.1f} ms, {real_time[name]:.0f} times real time, "
              f"{min(rates) / ms:.2f} times as fast as the largest spectral peak by scipy")
    print_variability(folder)


def print_variability(folder):
    """A day of beats: the library's parts beside those of the numpy script, whose entropy is extrapolated from a fifth of the day."""
    ours = {}
    for path in glob.glob(os.path.join(folder, "variability?.json")):
        with open(path, encoding="utf-8") as f:
            for row in json.load(f)["benchmarks"]:
                ours[row["name"]] = min(ours.get(row["name"], float("inf")), row["cpu_time"])
    with open(os.path.join(folder, "numpy_variability.json"), encoding="utf-8") as f:
        script = json.load(f)
    print()
    for name, ms in ours.items():
        print(f"{'100,000 beats, ' + name:38}{ms:.0f} ms")
    whole = sum(script[part] for part in ("time_domain", "welch", "dfa", "entropy_extrapolated"))
    print(f"numpy script, time domain, Welch, DFA, sample entropy: {whole:.0f} ms, {whole / ours['everything']:.1f} times as long as everything here; "
          f"DFA {script['dfa'] / ours['scaling']:.1f}, entropy {script['entropy_extrapolated'] / ours['entropies_of_a_day']:.1f} times")


if __name__ == "__main__":
    main()
