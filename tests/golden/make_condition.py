#!/usr/bin/env python3
"""Makes the golden values that stage 2 is checked against, with scipy as the independent witness.

    /usr/bin/python3 tests/golden/make_condition.py

writes condition.json beside itself. The inputs are formulas, not recordings, so that a test can make them again:
chirp(i) = 0.5 sin(0.002 i + 0.000005 i^2) + 0.2 sin(1.1 i) + 3, as a 32-bit float.
"""
import json
import os

import numpy as np
import scipy
from scipy import signal

HERE = os.path.dirname(os.path.abspath(__file__))


def chirp(n):
    i = np.arange(n, dtype=np.float64)
    return (0.5 * np.sin(0.002 * i + 0.000005 * i * i) + 0.2 * np.sin(1.1 * i) + 3.0).astype(np.float32)


def settling(sos, share):
    """The rule of filter_zero_phase: samples until the slowest pole has died down to `share`, and two."""
    radius = max(abs(p) for row in sos for p in np.roots(row[3:]))
    return int(np.ceil(np.log(share) / np.log(radius))) + 2


DESIGNS = []
for order in (1, 2, 3, 4, 5, 8, 12):
    for rate, low, high in ((360.0, 5.0, 15.0), (1000.0, 0.05, 40.0), (25.0, 0.5, 8.0)):
        for kind in ("lowpass", "highpass", "bandpass", "bandstop"):
            DESIGNS.append((kind, order, low, high, rate))


def edges_of(kind, low, high):
    return {"lowpass": high, "highpass": low}.get(kind, [low, high])


def responses():
    """Complex gain from poles and zeros, which stays exact where polynomials and sections do not."""
    out = []
    for kind, order, low, high, rate in DESIGNS:
        zpk = signal.butter(order, edges_of(kind, low, high), kind, fs=rate, output="zpk")
        centre = float(np.sqrt(low * high))
        hz = [low / 3, low, centre, 0.9 * high, high, 0.5 * (high + rate / 2), 0.99 * rate / 2]
        _, gain = signal.freqz_zpk(*zpk, worN=np.array(hz), fs=rate)
        out.append({"kind": kind, "order": order, "low_hz": low, "high_hz": high, "rate_hz": rate, "at_hz": hz,
                    "real": [float(v) for v in gain.real], "imag": [float(v) for v in gain.imag]})
    return out


def impulses():
    out = []
    for kind, order, low, high, rate in DESIGNS:
        if order not in (2, 5):
            continue
        sos = signal.butter(order, edges_of(kind, low, high), kind, fs=rate, output="sos")
        x = np.zeros(400)
        x[1] = 1.0  # after a first sample of 0, so that a primed filter starts from rest
        y = signal.sosfilt(sos, x)
        out.append({"kind": kind, "order": order, "low_hz": low, "high_hz": high, "rate_hz": rate,
                    "at": list(range(1, 400, 21)), "y": [float(v) for v in y[1:400:21]]})
    return out


def notches():
    b, a = signal.iirnotch(50.0, 30.0, fs=360.0)
    return {"centre_hz": 50.0, "quality": 30.0, "rate_hz": 360.0, "b": b.tolist(), "a": a.tolist()}


def zero_phase():
    out = []
    x = chirp(6000)
    for kind, order, low, high, rate in (("bandpass", 2, 5.0, 15.0, 360.0), ("highpass", 2, 0.67, 15.0, 360.0),
                                         ("lowpass", 5, 5.0, 8.0, 125.0), ("bandstop", 3, 48.0, 52.0, 360.0)):
        sos = signal.butter(order, edges_of(kind, low, high), kind, fs=rate, output="sos")
        y = signal.sosfiltfilt(sos, x.astype(np.float64), padtype="odd", padlen=settling(sos, 1e-3))
        at = sorted(set(list(range(0, 40, 3)) + list(range(40, 6000, 97)) + list(range(5960, 6000, 3))))
        out.append({"kind": kind, "order": order, "low_hz": low, "high_hz": high, "rate_hz": rate, "n": len(x),
                    "at": at, "y": [float(y[i]) for i in at]})
    return out


def resampled():
    """The same filter length and shape family: a Kaiser window of the same beta, the same cut-off, as long as ours."""
    out = []
    x = chirp(6000)
    for up, down in ((25, 36), (1, 4), (2, 1), (36, 25)):
        narrowest = max(up, down)
        width = np.pi * 0.15 / narrowest
        half = int(np.ceil((80.0 - 7.95) / (2.285 * width) / 2.0))
        beta = 0.1102 * (80.0 - 8.7)
        taps = signal.firwin(2 * half + 1, 0.925 / narrowest, window=("kaiser", beta))
        y = signal.resample_poly(x.astype(np.float64), up, down, window=taps, padtype="constant")
        at = list(range(len(y) // 4, 3 * len(y) // 4, 61))
        out.append({"up": up, "down": down, "n": len(x), "length": len(y), "at": at, "y": [float(y[i]) for i in at]})
    return out


def one_case_a_line(golden):
    parts = []
    for key, value in golden.items():
        cases = value if isinstance(value, list) else [value]
        lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
        parts.append(json.dumps(key) + ":" + ("[\n" + lines + "]" if isinstance(value, list) else lines))
    return "{" + ",\n".join(parts) + "}\n"


def main():
    golden = {
        "provenance": {"made_by": "tests/golden/make_condition.py", "command": "/usr/bin/python3 tests/golden/make_condition.py",
                       "scipy": scipy.__version__, "numpy": np.__version__},
        "responses": responses(), "impulses": impulses(), "notch": notches(), "zero_phase": zero_phase(),
        "resampled": resampled(),
    }
    with open(os.path.join(HERE, "condition.json"), "w", encoding="ascii") as f:
        f.write(one_case_a_line(golden))


if __name__ == "__main__":
    main()
