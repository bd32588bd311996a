#!/usr/bin/env python3
"""A folder of two-signal ECG records scored as a careful user would script it with numpy and scipy: beats of each signal, one list of both, intervals, rates, variability.

    scipy_analyze.py FOLDER [WORKERS] [--columns]    prints JSON with the wall-clock seconds

It is the yardstick of the batch benchmark. It reads open records in format 212, and does less than pulsewright: no quality, confidence, interval of a rate, verdict or label. With --columns it
leaves out what no column of a batch shows as well: spectra, entropies and scaling.
"""
import functools
import json
import multiprocessing
import pathlib
import sys
import time

import numpy as np
from scipy import interpolate, signal

from numpy_variability import dfa, entropy, spectrum, time_domain
from scipy_beats import find_beats


def read(header):
    """Both signals in mV and the sampling rate."""
    lines = header.read_text().splitlines()
    _, count, rate, samples = lines[0].split()[:4]
    fields = [line.split() for line in lines[1 : 1 + int(count)]]
    packed = np.fromfile(header.with_suffix(".dat"), dtype=np.uint8).reshape(-1, 3).astype(np.int16)
    first = packed[:, 0] | ((packed[:, 1] & 0x0F) << 8)
    second = packed[:, 2] | ((packed[:, 1] & 0xF0) << 4)
    signals = np.stack([first, second])
    signals = np.where(signals > 2047, signals - 4096, signals)[:, : int(samples)]
    return [(signal - int(field[4])) / float(field[2].split("(")[0] or 200) for signal, field in zip(signals, fields)], float(rate)


def joined(lists, rate):
    """Beats that either signal has, those within 150 ms counted once."""
    every = np.sort(np.concatenate(lists)) / rate
    return every[np.concatenate([[True], np.diff(every) > 0.15])]


def cleaned(beats):
    """Intervals in ms, those far from the median of their neighbours replaced by it."""
    intervals = 1000 * np.diff(beats)
    padded = np.pad(intervals, 5, mode="edge")
    usual = np.median(np.lib.stride_tricks.sliding_window_view(padded, 11), axis=1)
    wrong = np.abs(intervals - usual) > 0.2 * usual
    return np.where(wrong, usual, intervals), wrong


def rates(beats, duration):
    """60 (N - 1) / (last - first) in windows of 8 s every 2 s."""
    starts = np.arange(0, duration - 8 + 1e-9, 2)
    first = np.searchsorted(beats, starts)
    last = np.searchsorted(beats, starts + 8) - 1
    enough = last - first >= 2
    bpm = np.full(len(starts), np.nan)
    bpm[enough] = 60 * (last - first)[enough] / (beats[last[enough]] - beats[first[enough]])
    return bpm


def burg(x, order):
    """Coefficients and power of the prediction error."""
    forward, backward = x[1:].copy(), x[:-1].copy()
    a, power = np.array([1.0]), np.mean(x**2)
    for _ in range(order):
        k = -2 * (forward @ backward) / (forward @ forward + backward @ backward)
        a = np.append(a, 0) + k * np.append(a, 0)[::-1]
        power *= 1 - k * k
        forward, backward = (forward + k * backward)[1:], (backward + k * forward)[:-1]
    return a, power


def covariance(x, order):
    """The same by least squares."""
    rows = np.lib.stride_tricks.sliding_window_view(x, order + 1)[:, ::-1]
    a = np.linalg.lstsq(rows[:, 1:], -rows[:, 0], rcond=None)[0]
    return np.append(1.0, a), np.mean((rows @ np.append(1.0, a)) ** 2)


def other_measures(intervals, wrong):
    """Spectra by four methods, entropies and scaling, where no more than 10 % of the intervals were replaced."""
    if wrong.mean() > 0.10:
        return []
    times = np.cumsum(intervals) / 1000
    even = interpolate.CubicSpline(times, intervals)(np.arange(times[0], times[-1], 0.5))
    even -= even.mean()
    f = np.arange(0.001, 0.4, 0.001)
    models = [power / 2.0 / np.abs(np.exp(-2j * np.pi * np.outer(f, np.arange(17)) / 2.0) @ a) ** 2
              for a, power in (burg(even, 16), covariance(even, 16))]
    measured = ~wrong
    lomb = signal.lombscargle(times[measured], intervals[measured] - intervals[measured].mean(), 2 * np.pi * np.arange(1, times[-1] / 2) / times[-1])
    means = [intervals[: len(intervals) // scale * scale].reshape(-1, scale).mean(axis=1) for scale in range(2, 6)]
    return [spectrum(intervals), [model.sum() for model in models], lomb.sum(), time_domain(intervals), dfa(intervals),
            entropy(intervals), [entropy(x) for x in means if len(x) >= 200]]


def score(header, every_measure=True):
    signals, rate = read(header)
    beats = joined([find_beats(signal, rate) for signal in signals], rate)
    intervals, wrong = cleaned(beats)
    course = rates(beats, len(signals[0]) / rate)
    steps = np.diff(intervals)
    if every_measure:
        other_measures(intervals, wrong)
    reserve = np.clip((course - 66) / (205 - 66), 0, None)
    return {"file": header.stem, "beats_count": len(beats), "flagged_percent": 100 * wrong.mean(), "mean_hr_bpm": np.nanmean(course),
            "lowest_hr_bpm": np.nanmin(course), "peak_hr_bpm": np.nanmax(course), "mean_nn_ms": intervals.mean(),
            "sdnn_ms": intervals.std(ddof=1), "rmssd_ms": np.sqrt(np.mean(steps**2)), "pnn50_percent": 100 * np.mean(np.abs(steps) > 50),
            "in_target_s": 2 * np.sum((reserve >= 0.6) & (reserve <= 0.85))}


def main():
    headers = sorted(pathlib.Path(sys.argv[1]).glob("*.hea"))
    workers = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    work = functools.partial(score, every_measure="--columns" not in sys.argv)
    began = time.perf_counter()
    if workers == 1:
        rows = [work(header) for header in headers]
    else:
        with multiprocessing.Pool(workers) as pool:
            rows = pool.map(work, headers, chunksize=1)
    print(json.dumps({"records": len(rows), "beats": sum(row["beats_count"] for row in rows), "seconds": time.perf_counter() - began}))


if __name__ == "__main__":
    main()
