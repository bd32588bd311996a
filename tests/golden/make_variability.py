#!/usr/bin/env python3
"""Makes the golden values of spectra, trends, entropies and scaling, with numpy and scipy as the independent witness.

    /usr/bin/python3 tests/golden/make_variability.py

writes variability.json beside itself. The series is a formula, so that a test can make it again:
nn(i) = 820 + 35 sin(0.55 i) + 25 sin(1.9 i + 0.3) + 30 (u(i) - 0.5), u the generator s -> (1664525 s + 1013904223) mod 2^32 over 2^32, from s = 7.
Everything slow is done in the slow way on purpose: entropies compare every pair, DFA fits every box, the Lomb-Scargle sums run over every beat.
"""
import json
import os

import numpy as np
import scipy
import scipy.sparse
import scipy.sparse.linalg
from scipy import interpolate, signal

HERE = os.path.dirname(os.path.abspath(__file__))
COUNT = 600
RATE = 4.0


def series(n=COUNT):
    s, out = 7, []
    for i in range(n):
        s = (1664525 * s + 1013904223) % 2**32
        out.append(820 + 35 * np.sin(0.55 * i) + 25 * np.sin(1.9 * i + 0.3) + 30 * (s / 2**32 - 0.5))
    return np.array(out)


def even(t, x):
    at = t[0] + np.arange(int(np.floor((t[-1] - t[0]) * RATE)) + 1) / RATE
    return interpolate.CubicSpline(t, x, bc_type="natural")(at)


def trend(x, lam):
    n = len(x)
    d = scipy.sparse.diags([1, -2, 1], [0, 1, 2], shape=(n - 2, n))
    return scipy.sparse.linalg.spsolve((scipy.sparse.eye(n) + lam**2 * d.T @ d).tocsc(), x)


def cells(frequency, density, low, high):
    """Each value stands for a cell of one step around it, cut off at 0 and the top."""
    df = frequency[1] - frequency[0]
    left = np.maximum(0, frequency - df / 2)
    right = np.minimum(frequency[-1], frequency + df / 2)
    overlap = np.clip(np.minimum(right, high) - np.maximum(left, low), 0, None)
    return float(np.sum(density * df * overlap / (right - left)))


BANDS = {"vlf": (0.003, 0.04), "lf": (0.04, 0.15), "hf": (0.15, 0.4)}


def lomb_scargle(t, x, oversampling):
    n = len(t)
    x = x - x.mean()
    length = (t[-1] - t[0]) * n / (n - 1)
    step = 1 / (oversampling * length)
    frequency = np.arange(1, int(0.5 * n * oversampling) + 1) * step
    power = signal.lombscargle(t - t[0], x, 2 * np.pi * frequency)  # scipy's is Scargle's periodogram, unnormalised
    return frequency, 2 * power / n * length


def burg(x, order):
    x = x - x.mean()
    f, b = x.copy(), x.copy()
    a, error = np.array([1.0]), np.mean(x * x)
    for _ in range(order):
        f, b = f[1:], b[:-1]
        k = -2 * np.dot(f, b) / (np.dot(f, f) + np.dot(b, b))
        a = np.concatenate([a, [0]]) + k * np.concatenate([a, [0]])[::-1]
        f, b = f + k * b, b + k * f
        error *= 1 - k * k
    return -a[1:], error


def covariance(x, order):
    x = x - x.mean()
    n = len(x)
    forward = np.array([x[i - order:i][::-1] for i in range(order, n)])
    backward = np.array([x[i + 1:i + order + 1] for i in range(n - order)])
    rows = np.vstack([forward, backward])
    wanted = np.concatenate([x[order:], x[:n - order]])
    a, *_ = np.linalg.lstsq(rows, wanted, rcond=None)
    return a, np.mean((wanted - rows @ a)**2)


def model_power(a, noise, low, high):
    f = np.linspace(low, high, 200001)
    z = np.exp(-2j * np.pi * np.outer(f / RATE, np.arange(1, len(a) + 1)))
    density = 2 * noise / RATE / np.abs(1 - z @ a)**2
    return float(np.trapz(density, f))


def close(x, m, r):
    runs = np.array([x[i:i + m] for i in range(len(x) - m + 1)])
    return (np.abs(runs[:, None, :] - runs[None, :, :]).max(axis=2) <= r)


def sample_entropy(x, m, r):
    n = len(x)
    b = close(x, m, r)[:n - m, :n - m].sum() - (n - m)
    a = close(x, m + 1, r).sum() - (n - m)
    return float(-np.log(a / b))


def approximate_entropy(x, m, r):
    phi = lambda k: np.mean(np.log(close(x, k, r).mean(axis=1)))
    return float(phi(m) - phi(m + 1))


def dfa(x, lengths):
    y = np.cumsum(x - x.mean())
    f = []
    for n in lengths:
        boxes = y[:len(y) // n * n].reshape(-1, n)
        i = np.arange(n)
        f.append(np.sqrt(np.mean([np.mean((box - np.polyval(np.polyfit(i, box, 1), i))**2) for box in boxes])))
    return float(np.polyfit(np.log(lengths), np.log(f), 1)[0])


def triangle(x):
    """Bins of 1/128 s from 0; least squares over every pair of bins as feet, the apex over the highest bin."""
    width = 1000 / 128
    bins = np.floor(x / width).astype(int)
    first, last = bins.min() - 1, bins.max() + 1
    count = np.array([np.sum(bins == b) for b in range(first, last + 1)], dtype=float)
    mode, place = int(np.argmax(count)), np.arange(len(count))
    best = None
    for left in range(0, mode):
        for right in range(mode + 1, len(count)):
            model = np.interp(place, [left, mode, right], [0, count[mode], 0])
            error = np.sum((count - model)**2)
            if best is None or error < best[0]:
                best = (error, (right - left) * width)
    return float(len(x) / count[mode]), float(best[1])


def main():
    x = series()
    t = np.cumsum(x) / 1000
    grid = even(t, x)
    frequency, density = signal.welch(grid, fs=RATE, window="hann", nperseg=400, noverlap=200, detrend="constant")
    slow, scargle = lomb_scargle(t, x, 2.0)
    burg_a, burg_noise = burg(grid, 16)
    covariance_a, covariance_noise = covariance(grid, 16)
    covariance_noise *= np.var(grid) / model_power(covariance_a, covariance_noise, 0, RATE / 2)  # scaled to the variance
    sd = np.std(x, ddof=1)
    lam = 500.0
    means = lambda s: x[:len(x) // s * s].reshape(-1, s).mean(axis=1)
    index, width = triangle(series(2000))
    out = {
        "made_with": {"numpy": np.__version__, "scipy": scipy.__version__, "script": "make_variability.py"},
        "count": COUNT,
        "even_grid": {"count": len(grid), "every_97th": [float(v) for v in grid[::97]]},
        "trend": {"lambda": lam, "every_97th": [float(v) for v in trend(grid, lam)[::97]]},
        "welch": {"segment_s": 100.0, "every_7th": [float(v) for v in density[::7]],
                  "bands": {k: cells(frequency, density, *b) for k, b in BANDS.items()}},
        "lomb_scargle": {"every_29th": [float(v) for v in scargle[::29]], "bands": {k: cells(slow, scargle, *b) for k, b in BANDS.items()}},
        "burg": {"order": 16, "coefficients": [float(v) for v in burg_a], "noise": float(burg_noise),
                 "bands": {k: model_power(burg_a, burg_noise, *b) for k, b in BANDS.items()}},
        "covariance": {"order": 16, "coefficients": [float(v) for v in covariance_a], "noise": float(covariance_noise),
                       "bands": {k: model_power(covariance_a, covariance_noise, *b) for k, b in BANDS.items()}},
        "sample_entropy": {str(m): sample_entropy(x, m, 0.2 * sd) for m in (1, 2, 3)},
        "approximate_entropy": {str(m): approximate_entropy(x, m, 0.2 * sd) for m in (1, 2, 3)},
        "multiscale": [sample_entropy(means(s), 2, 0.2 * sd) for s in (1, 2, 3, 4, 5)],
        "alpha1": dfa(x, list(range(4, 17))),
        "alpha2": dfa(x, list(range(16, 65))),
        "triangular_index": index,
        "tinn_ms": width,
    }
    with open(os.path.join(HERE, "variability.json"), "w", encoding="utf-8") as f:
        json.dump(out, f, indent=1)
        f.write("\n")


if __name__ == "__main__":
    main()
