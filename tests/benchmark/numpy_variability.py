#!/usr/bin/env python3
"""The same measures of a day of beats by a plain numpy and scipy script: numpy_variability.py INTERVALS ROUNDS

INTERVALS: ms as 64-bit floats. Prints the best time of each part as JSON, in ms. Entropy is counted with scipy's k-d tree, the fastest that
numpy and scipy offer without writing a method of one's own, on the first `ENTROPY_BEATS` beats: it grows as the square, so the whole is extrapolated and said so.
"""
import json
import sys
import time

import numpy as np
from scipy import interpolate, signal
from scipy.spatial import cKDTree

ENTROPY_BEATS = 20000


def time_domain(x):
    d = np.diff(x)
    return [x.mean(), x.std(ddof=1), np.sqrt(np.mean(d * d)), d.std(ddof=1), np.sum(np.abs(d) > 50),
            np.histogram(x, np.arange(x.min(), x.max() + 7.8125, 7.8125))[0].max()]


def spectrum(x):
    t = np.cumsum(x) / 1000
    grid = interpolate.CubicSpline(t, x)(np.arange(t[0], t[-1], 0.25))
    f, p = signal.welch(grid, 4.0, nperseg=1024)
    return [p[(f >= a) & (f < b)].sum() for a, b in ((0.003, 0.04), (0.04, 0.15), (0.15, 0.4))]


def dfa(x):
    y, out = np.cumsum(x - x.mean()), []
    for n in list(range(4, 17)) + list(range(16, 65)):
        boxes = y[:len(y) // n * n].reshape(-1, n)
        i = np.arange(n) - (n - 1) / 2
        left = boxes - boxes.mean(axis=1, keepdims=True)
        left -= np.outer(left @ i / (i @ i), i)
        out.append(np.sqrt(np.mean(left**2)))
    return out


def entropy(x):
    r = 0.2 * x.std(ddof=1)
    counts = []
    for m in (2, 3):
        runs = np.lib.stride_tricks.sliding_window_view(x, m)
        tree = cKDTree(runs)
        counts.append(tree.count_neighbors(tree, r, p=np.inf))
    return counts


def best(f, x, rounds):
    times = []
    for _ in range(rounds):
        start = time.process_time()
        f(x)
        times.append(1000 * (time.process_time() - start))
    return min(times)


def main():
    x = np.fromfile(sys.argv[1])
    rounds = int(sys.argv[2])
    out = {name: best(f, x, rounds) for name, f in (("time_domain", time_domain), ("welch", spectrum), ("dfa", dfa))}
    out["entropy_part"] = best(entropy, x[:ENTROPY_BEATS], 1)
    out["entropy_extrapolated"] = out["entropy_part"] * (len(x) / ENTROPY_BEATS)**2
    print(json.dumps(out))


if __name__ == "__main__":
    main()
